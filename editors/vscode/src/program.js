// Finds the levare program and makes sure it runs here, before the editor is asked to talk to it:
// a program that cannot run is explained in plain words instead of by the operating system's.

const fs = require('node:fs');
const path = require('node:path');
const { execFile } = require('node:child_process');

/** A virus scanner may hold a new program back while it reads it, hence the patience (ms). */
const PATIENCE = 20000;

/**
 * What Node reports for a program of another system. The numbers are the shell's: on Linux and
 * macOS a file that the system cannot run is handed to the shell, which stumbles over it.
 */
const FOREIGN = ['ENOEXEC', 'UNKNOWN', 'EFTYPE', 'EBADARCH', 2, 126, 127];

/** The program that came with the extension in the folder `extension`. */
function carried(extension) {
  return path.join(extension, 'bin', process.platform === 'win32' ? 'levare.exe' : 'levare');
}

/** Installing can lose the permission to run a program; give it back where that is possible. */
function allow(program) {
  if (process.platform === 'win32') return;
  try {
    fs.accessSync(program, fs.constants.X_OK);
  } catch {
    try {
      fs.chmodSync(program, 0o755);
    } catch {
      // Running it will say so in words.
    }
  }
}

function missing(program, chosen) {
  return chosen
    ? {
        short: 'No program at the place in the settings.',
        message:
          `There is no levare program at ${program}. That place was written in the settings, so no ` +
          'marks will appear under your cards. Correct the place, or empty the line to use the ' +
          'program that came with this extension.',
      }
    : {
        short: 'This extension came without its program.',
        message:
          'This Levare extension came without the levare program, so no marks will appear under your ' +
          'cards. Install the Levare file made for your kind of computer ' +
          `(${process.platform}, ${process.arch}). If there is a levare program on this computer ` +
          'already, choose its place in the settings.',
      };
}

/** What to tell a director about a program that is there and does not run. `error` is Node's. */
function unwilling(program, chosen, error) {
  const detail = `${program}: ${error.message}`;
  const which = chosen ? `The levare program at ${program}` : 'The levare program in this extension';
  const wrongKind = FOREIGN.includes(error.code);
  if (error.code === 'EACCES' || error.code === 'EPERM') {
    return {
      short: 'This computer does not let it run.',
      message:
        `${which} is not allowed to run on this computer, so no marks will appear under your cards. ` +
        'Ask the person who looks after this computer to allow it.',
      detail,
    };
  }
  if (wrongKind) {
    return {
      short: 'It was made for another kind of computer.',
      message:
        `${which} was made for another kind of computer, so no marks will appear under your cards. ` +
        `Install the Levare file made for yours (${process.platform}, ${process.arch}).`,
      detail,
    };
  }
  return {
    short: 'It does not start.',
    message:
      `${which} does not start, so no marks will appear under your cards. Install this extension ` +
      'again. If that does not help, show what it said to the person who helps you with this computer.',
    detail,
  };
}

/**
 * Runs `program --version`. Gives `{ version }`, or `{ problem }` with `short` (a few words),
 * `message` (for the director) and `detail` (for the output). `chosen` tells that the place came
 * from the settings. Never throws.
 */
function check(program, chosen) {
  return new Promise((resolve) => {
    if (!fs.existsSync(program)) return resolve({ problem: missing(program, chosen) });
    if (!chosen) allow(program);
    const options = { timeout: PATIENCE, windowsHide: true };
    const answer = (error, stdout) => {
      if (error) return resolve({ problem: unwilling(program, chosen, error) });
      resolve({ version: stdout.trim() || 'levare' });
    };
    try {
      execFile(program, ['--version'], options, answer);
    } catch (error) {
      answer(error);
    }
  });
}

module.exports = { carried, check };

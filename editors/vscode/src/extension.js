// Starts the proofreader when a card is opened, stops it when the window closes, and says in
// plain words what to do when it cannot be started. Everything else is the proofreader's work.

const vscode = require('vscode');
const { LanguageClient, CloseAction, ErrorAction } = require('vscode-languageclient/node');
const cards = require('./cards');
const { firstSteps } = require('./steps');
const { depth } = require('./depth');
const { carried, check } = require('./program');

/** How often the proofreader may stop by itself within `RESTART_SPAN` before it is left alone. */
const RESTARTS = 3;
const RESTART_SPAN = 3 * 60 * 1000;

/** The editor's own words for its mistakes go to the output; a director sees only ours. */
class QuietClient extends LanguageClient {
  error(message, data) {
    super.error(message, data, false);
  }
  warn(message, data) {
    super.warn(message, data, false);
  }
  info(message, data) {
    super.info(message, data, false);
  }
}

let output;
let status;
let client;
/** Where this extension is installed, and its watch over the folder's cards. */
let home;
/** One start or stop at a time: a change of setting while one is under way waits for it. */
let turn = Promise.resolve();

function inTurn(work) {
  turn = turn.then(work, work);
  return turn;
}

function show(severity, text, detail) {
  status.severity = severity;
  status.text = text;
  status.detail = detail;
}

/** Tells what went wrong and offers the ways out; the buttons are the same everywhere. */
async function tell(problem) {
  show(vscode.LanguageStatusSeverity.Error, 'The proofreader is not here', problem.short);
  output.appendLine(problem.detail ?? problem.message);
  const choose = 'Choose the Program';
  const again = 'Try Again';
  const notes = 'Show What It Said';
  const picked = await vscode.window.showErrorMessage(problem.message, again, choose, notes);
  if (picked === again) inTurn(start);
  if (picked === choose) vscode.commands.executeCommand('workbench.action.openSettings', 'levare.program');
  if (picked === notes) output.show();
}

/** Lets a proofreader that stopped come back, but not one that never answered or stops for ever. */
function comesBack(answered) {
  const stops = [];
  return {
    error: () => ({ action: ErrorAction.Continue, handled: true }),
    closed: () => {
      if (!answered()) return { action: CloseAction.DoNotRestart, handled: true };
      const now = Date.now();
      stops.push(now);
      while (stops[0] < now - RESTART_SPAN) stops.shift();
      if (stops.length <= RESTARTS) return { action: CloseAction.Restart, handled: true };
      tell({
        short: 'It stopped several times.',
        message:
          'The Levare proofreader stopped several times, so it has been left alone. Your cards are ' +
          'safe: only the marks under them are missing. Save your work and try again. If it keeps ' +
          'happening, show what it said to the person who helps you with this computer.',
      });
      return { action: CloseAction.DoNotRestart, handled: true };
    },
  };
}

async function stop() {
  const old = client;
  client = undefined;
  if (!old) return;
  try {
    await old.stop();
  } catch (error) {
    output.appendLine(`The proofreader had already stopped: ${error.message}`);
  }
  await old.dispose().catch(() => {});
}

/** The place of the program in the settings; empty when the one that came along is meant. */
function chosenProgram() {
  return vscode.workspace.getConfiguration('levare').get('program', '').trim();
}

function theProgram() {
  return chosenProgram() || carried(home.extensionPath);
}

async function start() {
  await stop();
  const chosen = chosenProgram();
  const program = theProgram();
  show(vscode.LanguageStatusSeverity.Information, 'Calling the proofreader in', program);

  const answer = await check(program, Boolean(chosen));
  if (answer.problem) return void tell(answer.problem);
  output.appendLine(`${answer.version} (${program})`);

  const next = new QuietClient(
    'levare',
    'Levare',
    { command: program, args: ['desk'] },
    {
      documentSelector: [
        { scheme: 'file', language: 'levare' },
        { scheme: 'untitled', language: 'levare' },
      ],
      initializationOptions: { levare: { pictures: true } },
      synchronize: { fileEvents: home.watcher },
      outputChannel: output,
      errorHandler: comesBack(() => client === next),
      initializationFailedHandler: () => false,
    },
  );
  try {
    await next.start();
    client = next;
    show(vscode.LanguageStatusSeverity.Information, 'The proofreader is reading along', answer.version);
  } catch (error) {
    await next.dispose().catch(() => {});
    tell({
      short: 'It started and stopped at once.',
      message:
        'The Levare proofreader was started but did not answer, so no marks will appear under your ' +
        'cards. Try again; if that does not help, install this extension again.',
      detail: String(error && error.stack ? error.stack : error),
    });
  }
}

exports.activate = async (context) => {
  output = vscode.window.createOutputChannel('Levare');
  status = vscode.languages.createLanguageStatusItem('levare.proofreader', { language: 'levare' });
  status.name = 'Levare';
  status.command = { command: 'levare.showNotes', title: 'Show What It Said' };
  const watcher = vscode.workspace.createFileSystemWatcher('**/*.levare');
  vscode.commands.executeCommand('setContext', 'levare.awake', true);

  home = { extensionPath: context.extensionPath, watcher };
  context.subscriptions.push(
    output,
    status,
    watcher,
    depth(),
    vscode.commands.registerCommand('levare.openCatalogue', cards.openCatalogue),
    vscode.commands.registerCommand('levare.newCard', cards.newCard),
    vscode.commands.registerCommand('levare.start', (name) => cards.start(theProgram(), name)),
    vscode.commands.registerCommand('levare.door', (name) => cards.door(theProgram(), name)),
    vscode.commands.registerCommand('levare.firstSteps', firstSteps),
    vscode.commands.registerCommand('levare.startOver', () => inTurn(start)),
    vscode.commands.registerCommand('levare.showNotes', () => output.show()),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('levare.program')) inTurn(start);
    }),
  );
  // The cards open at once; the proofreader joins when it is ready.
  inTurn(start);
};

exports.deactivate = () => inTurn(stop);

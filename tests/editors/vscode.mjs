// node vscode.mjs CACHE VSIX FOLDER EXPECTATIONS OUT
//
// Installs the extension into a fresh VS Code workbench, opens a card in it as a director would,
// and takes pictures: the marks with the list of all of them, a hover, the changes on offer. Then
// the probe asks the editor for exact columns and applies the change and the clean copy. Prints
// one JSON object, as the Neovim driver does; leaves with 1 when anything differs.

import { spawn, spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { compare } from './compare.mjs';
import { keys } from './vscode-keys.mjs';
import { typing } from './vscode-typing.mjs';

const [cache, vsix, folder, expectations, out] = process.argv.slice(2).map((p) => path.resolve(p));
const want = JSON.parse(fs.readFileSync(expectations, 'utf8'));
const { chromium } = createRequire(path.join(cache, 'vscode/package.json'))('playwright-core');
const workbench = path.join(cache, 'vscode/node_modules/code-server/out/node/entry.js');
const here = path.dirname(fileURLToPath(import.meta.url));
const home = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-vscode-'));
fs.mkdirSync(out, { recursive: true });

/** Milliseconds for anything that a person would wait for, on a busy machine. */
const patience = 60000;
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

function freePort() {
  return new Promise((done) => {
    const server = net.createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => done(port));
    });
  });
}

const folders = ['--user-data-dir', path.join(home, 'data'), '--extensions-dir', path.join(home, 'extensions')];
const quiet = ['--disable-telemetry', '--disable-update-check'];

/** The probe lies in the folder before the editor first looks; Levare is installed as anyone would. */
function install() {
  fs.cpSync(path.join(here, 'probe'), path.join(home, 'extensions/levare-tests.levare-probe-0.0.1'), { recursive: true });
  const done = spawnSync(process.execPath, [workbench, ...folders, '--install-extension', vsix], { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`the extension could not be installed:\n${done.stdout}${done.stderr}`);
  // The editor's own greeting would stand in front of the card.
  fs.mkdirSync(path.join(home, 'data/User'), { recursive: true });
  fs.writeFileSync(
    path.join(home, 'data/User/settings.json'),
    JSON.stringify({ 'workbench.startupEditor': 'none', 'files.autoSave': 'off', ...want.settings }),
  );
}

async function serve(port) {
  const server = spawn(
    process.execPath,
    [workbench, '--auth', 'none', '--bind-addr', `127.0.0.1:${port}`, '--disable-workspace-trust',
      '--disable-getting-started-override', ...quiet, ...folders],
    {
      stdio: 'ignore',
      env: { ...process.env, LEVARE_PROBE: JSON.stringify({ folder: home, file: path.join(folder, want.file), want }) },
    },
  );
  for (let i = 0; i < 300; i++) {
    if (await fetch(`http://127.0.0.1:${port}/healthz`).then((r) => r.ok, () => false)) return server;
    await pause(100);
  }
  server.kill();
  throw new Error('the workbench did not start');
}

async function pictures(page, port) {
  const shots = {};
  const shoot = async (name) => {
    shots[name] = path.join(out, `${name}.png`);
    await page.screenshot({ path: shots[name] });
  };
  await page.goto(`http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`);
  await page.waitForSelector('.explorer-folders-view .monaco-list-row', { timeout: patience });
  await page.locator('.explorer-folders-view .monaco-list-row', { hasText: path.basename(want.file) }).first().dblclick();
  await page.waitForSelector('.monaco-editor .view-line', { timeout: patience });
  if (want.trouble) {
    // The program is missing on purpose: the picture is of the words that say what to do.
    await page.waitForSelector('.notification-toast', { timeout: patience });
    await pause(1000);
    shots.words = await page.locator('.notification-toast .notification-list-item-message').allInnerTexts();
    await shoot('trouble');
    return shots;
  }
  const goTo = async (at) => {
    const text = fs.readFileSync(path.join(folder, want.file), 'utf8').split(/\r?\n/)[at.line - 1];
    const units = [...text].slice(0, at.column - 1).join('').length + 1;
    await page.locator('.monaco-editor .view-line').first().click();
    await page.keyboard.press('Control+g');
    await page.waitForSelector('.quick-input-widget input', { timeout: patience });
    await page.keyboard.type(`${at.line}:${units}`);
    await page.keyboard.press('Enter');
    await pause(500);
  };
  if (want.pages) {
    result.seen = await keys(page, want, { folder, patience, shoot, wrong: result.wrong });
    return shots;
  }
  if (want.typing) {
    result.seen = await typing(page, want, { folder, patience, shoot, goTo, wrong: result.wrong });
    return shots;
  }
  const wavy = '.squiggly-error, .squiggly-warning, .squiggly-info, .squiggly-hint';
  if (want.marks.length > 0) await page.waitForSelector(wavy, { timeout: patience, state: 'attached' });
  else await page.locator('.monaco-editor .codelens-decoration, .monaco-editor .mtk1').first().waitFor({ timeout: patience });
  await page.keyboard.press('Control+Shift+M');
  if (want.marks.length > 0) await page.waitForSelector('.markers-panel .monaco-list-row', { timeout: patience });
  await pause(800);
  const rows = page.locator('.markers-panel .monaco-list-row');
  shots.list = await rows.evaluateAll((all) => all.map((row) => row.getAttribute('aria-label')));
  await shoot('marks');

  if (want.hover) {
    await goTo(want.hover);
    const hover = page.locator('.monaco-hover:not(.hidden) .hover-contents').first();
    // Without a mark to wait for, the proofreader may not be there at the first time.
    for (let i = 0; i < 10; i++) {
      await page.keyboard.press('Control+k');
      await page.keyboard.press('Control+i');
      if (await hover.waitFor({ timeout: patience / 10 }).then(() => true, () => false)) break;
    }
    await hover.waitFor({ timeout: 1000 });
    await pause(800);
    if (want.hover.picture) {
      // A picture that the editor leaves out has no width.
      const widths = await page.locator('.monaco-hover:not(.hidden) img').evaluateAll((all) => all.map((img) => img.naturalWidth));
      if (widths.length !== 1 || widths[0] < 50) result.wrong.push({ what: 'picture in the hover', expected: 'one that is drawn', got: widths });
    }
    shots.hover_words = await page.locator('.monaco-hover:not(.hidden)').first().innerText();
    await shoot('hover');
    await page.keyboard.press('Escape');
  }
  if (want.steps) {
    await page.locator('.monaco-editor .view-line').first().click();
    // Asked for again while its tab stands behind another one, it comes to the front.
    const active = page.locator('.tab.active').first();
    for (const time of ['first', 'second']) {
      await page.keyboard.press('F1');
      await page.waitForSelector('.quick-input-widget input', { timeout: patience });
      await page.keyboard.type('Levare: Show My First Five Minutes');
      await pause(800);
      await page.keyboard.press('Enter');
      await pause(3000);
      const shown = await active.innerText();
      await shoot(`steps-${time}`);
      if (!shown.includes(want.steps)) result.wrong.push({ what: `the walkthrough, asked for a ${time} time`, expected: want.steps, got: shown });
      await page.locator('.tab', { hasText: path.basename(want.file) }).first().click();
      await pause(500);
    }
  }
  if (want.fix) {
    await goTo(want.fix);
    await page.keyboard.press('Control+.');
    await page.waitForSelector('.action-widget .monaco-list-row', { timeout: patience });
    await pause(500);
    shots.offered = await page.locator('.action-widget .monaco-list-row').allInnerTexts();
    await shoot('changes');
    await page.keyboard.press('Escape');
  }
  return shots;
}

const result = { seen: {}, pictures: {}, wrong: [] };
let server;
let browser;
try {
  install();
  const port = await freePort();
  server = await serve(port);
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
      '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  try {
    result.pictures = await pictures(page, port);
  } catch (error) {
    await page.screenshot({ path: path.join(out, 'stuck.png') });
    throw error;
  }
  if (want.trouble) {
    for (const words of want.trouble) {
      if (!result.pictures.words.some((text) => text.includes(words))) {
        result.wrong.push({ what: 'trouble', expected: words, got: result.pictures.words });
      }
    }
  } else if (!want.typing && !want.pages) {
    fs.writeFileSync(path.join(home, 'go'), '');
    const answer = path.join(home, 'seen');
    for (let i = 0; i < 1200 && !fs.existsSync(answer); i++) await pause(100);
    if (!fs.existsSync(answer)) throw new Error('the probe gave no answer');
    result.seen = JSON.parse(fs.readFileSync(answer, 'utf8'));
    result.wrong.push(...compare(want, result.seen));
    const onDisk = fs.readFileSync(path.join(folder, want.file), 'utf8').split(/\r?\n/);
    const last = result.seen.after_recopy ?? result.seen.after_fix;
    if (last && onDisk.join('\n') !== last.join('\n')) {
      result.wrong.push({ what: 'saved file', expected: last, got: onDisk });
    }
    await page.screenshot({ path: path.join(out, 'after.png') });
  }
} catch (error) {
  result.wrong.push({ what: 'driver', expected: 'no error', got: String(error?.stack ?? error) });
} finally {
  await browser?.close();
  if (server) {
    server.kill();
    await Promise.race([new Promise((done) => server.once('exit', done)), pause(5000)]);
  }
  fs.rmSync(home, { recursive: true, force: true, maxRetries: 5 });
}
console.log(JSON.stringify(result, null, 1));
process.exit(result.wrong.length === 0 ? 0 : 1);

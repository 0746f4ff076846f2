// node walkthrough.mjs CACHE VSIX OUT
//
// Walks through the first five minutes in a fresh VS Code workbench, from an empty folder, pressing only
// what the walkthrough says: the four files, the five lines, the warning under the fifth, the word that
// settles it, the page for the door. Takes the pictures of it. Prints one JSON object; leaves with 1 when
// anything is not as the walkthrough says.

import { spawn, spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const [cache, vsix, out] = process.argv.slice(2).map((p) => path.resolve(p));
const { chromium } = createRequire(path.join(cache, 'vscode/package.json'))('playwright-core');
const workbench = path.join(cache, 'vscode/node_modules/code-server/out/node/entry.js');
const here = path.dirname(fileURLToPath(import.meta.url));
const home = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-walk-'));
const folder = path.join(home, 'catalogue');
fs.mkdirSync(folder);
fs.mkdirSync(out, { recursive: true });

/** Milliseconds for anything that a person would wait for, on a busy machine. */
const patience = 60000;
const pause = (ms) => new Promise((done) => setTimeout(done, ms));
const folders = ['--user-data-dir', path.join(home, 'data'), '--extensions-dir', path.join(home, 'extensions')];
const wrong = [];
const seen = {};
const differs = (what, expected, got) => wrong.push({ what, expected, got });
const read = (name) => fs.readFileSync(path.join(folder, name), 'utf8');

/** The lines that a page of the walkthrough says to type. */
function told(page) {
  const text = fs.readFileSync(path.join(here, '../../editors/vscode/walkthrough', page), 'utf8');
  return text.split('```')[1].trim().split('\n').map((line) => line.trim());
}

async function until(what, ready) {
  for (let waited = 0; waited < patience; waited += 100) {
    const found = await ready();
    if (found) return found;
    await pause(100);
  }
  throw new Error(`waited in vain: ${what}`);
}

function freePort() {
  return new Promise((done) => {
    const server = net.createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => done(port));
    });
  });
}

async function serve(port) {
  const done = spawnSync(process.execPath, [workbench, ...folders, '--install-extension', vsix], { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`the extension could not be installed:\n${done.stdout}${done.stderr}`);
  fs.mkdirSync(path.join(home, 'data/User'), { recursive: true });
  fs.writeFileSync(
    path.join(home, 'data/User/settings.json'),
    JSON.stringify({ 'workbench.startupEditor': 'none', 'files.autoSave': 'off', 'editor.minimap.enabled': false }),
  );
  const server = spawn(
    process.execPath,
    [workbench, '--auth', 'none', '--bind-addr', `127.0.0.1:${port}`, '--disable-workspace-trust',
      '--disable-getting-started-override', '--disable-telemetry', '--disable-update-check', ...folders],
    { stdio: 'ignore' },
  );
  await until('the workbench', () => fetch(`http://127.0.0.1:${port}/healthz`).then((r) => r.ok, () => false));
  return server;
}

async function command(page, words, choice) {
  await page.keyboard.press('Control+Shift+p');
  await page.waitForSelector('.quick-input-widget input', { timeout: patience });
  await page.keyboard.type(words);
  await pause(800);
  await page.keyboard.press('Enter');
  if (!choice) return;
  await pause(1500);
  await page.keyboard.type(choice);
  await pause(800);
  await page.keyboard.press('Enter');
}

async function walk(page, port) {
  const shoot = (name, clip) => page.screenshot({ path: path.join(out, `${name}.png`), clip });
  const button = async (step, words) => {
    await page.locator('.tab', { hasText: 'Walkthrough' }).first().click();
    await page.locator('.getting-started-step', { hasText: step }).first().click();
    await pause(500);
    await shoot(`step-${step.split(' ').at(-1).toLowerCase()}`);
    await page.locator('.gettingStartedContainer').getByText(words, { exact: true }).first().click();
  };
  const squiggles = page.locator('.monaco-editor .squiggly-warning, .monaco-editor .squiggly-error');

  await page.goto(`http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`);
  await page.waitForSelector('.explorer-folders-view', { timeout: patience });
  await pause(3000);
  await command(page, 'welcome: open walkthrough', 'levare');
  await page.waitForSelector('.getting-started-step', { timeout: patience });
  await button('Make a folder', 'Write the Four Files');
  await until('the four files', () => fs.readdirSync(folder).length === 4);
  seen.files = fs.readdirSync(folder).sort();
  await page.locator('.tab.active', { hasText: 'band.levare' }).first().waitFor({ timeout: patience });

  await button('Type five lines', 'Open the Card of the Piece');
  await page.locator('.tab.active', { hasText: 'pieces.levare' }).first().waitFor({ timeout: patience });
  await pause(2000);
  const before = read('pieces.levare').trimEnd();
  const lines = told('piece.md');
  for (const [at, line] of lines.entries()) {
    if ((await squiggles.count()) > 0) differs(`marks before line ${at + 1}`, 0, await squiggles.count());
    await page.keyboard.press('Enter');
    await page.keyboard.type(line.replace(/ +/g, ' '), { delay: 60 });
    await pause(1500);
  }
  await until('the wavy line', async () => (await squiggles.count()) > 0);
  await page.keyboard.press('Control+s');
  await until('the saved card', () => read('pieces.levare').trimEnd().split('\n').length === before.split('\n').length + lines.length);
  const typed = read('pieces.levare').trimEnd().split('\n');
  const wanted = [...before.split('\n'), ...lines];
  const plain = (all) => all.map((line) => line.trim().replace(/ +/g, ' ')).join('\n');
  if (plain(typed) !== plain(wanted)) differs('what was typed', wanted, typed);
  await page.keyboard.press('Control+k');
  await page.keyboard.press('Control+i');
  await page.waitForSelector('.monaco-hover:not(.hidden) .hover-contents', { timeout: patience });
  await pause(1000);
  seen.hover = await page.locator('.monaco-hover:not(.hidden)').first().innerText();
  if (!seen.hover.includes('41-56')) differs('hover', 'measures 41-56', seen.hover);
  await shoot('editor');

  await page.keyboard.press('Escape');
  await page.keyboard.press('End');
  await page.keyboard.type(', optional', { delay: 60 });
  await until('no wavy line', async () => (await squiggles.count()) === 0);
  await pause(3000);
  seen.rows = (await page.locator('.monaco-editor .view-lines').first().innerText()).replaceAll('\u00a0', ' ');
  const box = await page.locator('.monaco-editor').first().boundingBox();
  await shoot('players', box && { ...box, width: Math.min(box.width, 820), height: Math.min(box.height, 520) });

  await button('Print a page', 'Make the Page');
  await until('the page for the door', () => fs.existsSync(path.join(folder, 'door.html')));
  await page.waitForSelector('.notification-toast', { timeout: patience });
  await pause(800);
  await shoot('door');
  if (!read('pieces.levare').includes('optional')) differs('saved before the page', 'optional', read('pieces.levare'));
  if (!read('door.html').includes('Drum Hill')) differs('the page for the door', 'Drum Hill', 'another');
  for (const name of seen.files) fs.copyFileSync(path.join(folder, name), path.join(out, name));
}

let server;
let browser;
try {
  const port = await freePort();
  server = await serve(port);
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
      '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  try {
    await walk(page, port);
  } catch (error) {
    await page.screenshot({ path: path.join(out, 'stuck.png') });
    throw error;
  }
} catch (error) {
  differs('driver', 'no error', String(error?.stack ?? error));
} finally {
  await browser?.close();
  if (server) {
    server.kill();
    await Promise.race([new Promise((done) => server.once('exit', done)), pause(5000)]);
  }
  fs.rmSync(home, { recursive: true, force: true, maxRetries: 5 });
}
console.log(JSON.stringify({ seen, wrong }, null, 1));
process.exit(wrong.length === 0 ? 0 : 1);

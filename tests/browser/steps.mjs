// What every check needs: the page in a browser of its own, the program, files to open.

import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
export const page = path.resolve(process.env.PAGE ?? path.join(root, 'target/browser/levare.html'));
export const program = path.resolve(process.env.PROGRAM ?? path.join(root, 'target/release/levare'));
export const shots = path.join(root, 'target/browser/shots');
fs.mkdirSync(shots, { recursive: true });

/** Milliseconds for anything that a person would wait for, on a busy machine. */
export const patience = 30000;

export function same(found, wanted, what) {
  if (JSON.stringify(found) !== JSON.stringify(wanted)) {
    throw new Error(`${what}\n  found:  ${JSON.stringify(found)?.slice(0, 1500)}\n  wanted: ${JSON.stringify(wanted)?.slice(0, 1500)}`);
  }
}

export function holds(truth, what) {
  if (!truth) throw new Error(what);
}

/** A browser; its pages are opened from the disk, without a network, as by a double click. */
export async function browser() {
  const found = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find((one) => one && fs.existsSync(one));
  holds(found, 'There is no Chromium. Install it with the system\'s package manager (Debian: apt-get install chromium).');
  return chromium.launch({ executablePath: found, args: process.getuid?.() === 0 ? ['--no-sandbox'] : [] });
}

/** What every visitor's page has complained of so far. */
export const amiss = [];

/** A fresh visitor: nothing is kept from before. Everything that goes wrong in the page fails the check. */
export async function visitor(chrome, given = {}) {
  const context = await chrome.newContext({ viewport: { width: 1400, height: 900 }, offline: true, acceptDownloads: true, ...given });
  context.setDefaultTimeout(patience);
  context.amiss = [];
  amiss.push(context.amiss);
  context.asked = [];
  context.on('page', (tab) => {
    tab.on('pageerror', (error) => context.amiss.push(String(error)));
    tab.on('console', (line) => ['error', 'warning'].includes(line.type()) && context.amiss.push(line.text()));
  });
  context.on('request', (request) => context.asked.push(request.url()));
  return context;
}

export async function visit(context) {
  const tab = await context.newPage();
  await tab.goto(pathToFileURL(page).href);
  return tab;
}

/** Chooses a line of the list that is shown. */
export async function pick(tab, words) {
  await tab.locator('dialog .item', { hasText: words }).first().click();
}

/** Until all that was typed has been looked at, everywhere. */
export async function settled(tab, timeout = patience) {
  await tab.waitForFunction(() => window.levare?.catalog && document.body.dataset.looked === String(window.levare.version) && !window.levare.looking, null, { timeout });
}

export async function open(tab, which) {
  // The list to choose from stands before the page has told the world of itself.
  const before = await tab.evaluate(() => window.levare?.catalog?.id);
  await pick(tab, which);
  await tab.waitForFunction((before) => window.levare?.catalog && window.levare.catalog.id !== before, before);
  await settled(tab);
}

/** Opens a catalogue of this machine: { name: text or bytes }. */
export async function give(tab, name, files, timeout = patience) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-page-'));
  const inside = path.join(folder, name);
  for (const [file, text] of Object.entries(files)) {
    fs.mkdirSync(path.dirname(path.join(inside, file)), { recursive: true });
    fs.writeFileSync(path.join(inside, file), text);
  }
  // The browser's own window for folders cannot be driven, so the page asks the way that every browser has.
  await tab.evaluate(() => delete window.showDirectoryPicker || (window.showDirectoryPicker = undefined));
  if (!(await tab.locator('dialog').count())) await tab.click('[data-do=catalogs]');
  const chooser = tab.waitForEvent('filechooser');
  await pick(tab, 'Open a folder');
  await (await chooser).setFiles(inside);
  await tab.waitForFunction((name) => document.getElementById('catalog').textContent === name, name);
  await settled(tab, timeout);
  return folder;
}

/** The files of a folder. */
export function files(folder) {
  const all = {};
  for (const entry of fs.readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile() || !(entry.name.endsWith('.levare') || entry.name === 'known-findings.json')) continue;
    const full = path.join(entry.parentPath ?? entry.path, entry.name);
    all[path.relative(folder, full).split(path.sep).join('/')] = fs.readFileSync(full);
  }
  return all;
}

/** What the program says of a folder, as on a day. */
export function said(folder, day, least) {
  const ran = spawnSync(program, ['proofread', '--as', 'json', '--least', least, ...(day ? ['--today', day] : [])], { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 });
  holds(ran.status === 0 || ran.status === 1, `the program could not read ${folder}: ${ran.stderr}`);
  return ran.stdout;
}

/** What the page says of the catalogue that it has open, in the same form. */
export async function lines(tab, least) {
  const answer = await tab.evaluate((least) => window.levare.room.ask({ ask: 'lines', least, all: false }), least);
  return answer.text;
}

export const text = (tab) => tab.evaluate(() => window.levare.text(window.levare.open));

/** Puts the cursor behind some words of the text. */
export async function behind(tab, words) {
  await tab.evaluate((words) => {
    const { view } = window.levare;
    const at = view.state.doc.toString().indexOf(words);
    if (at < 0) throw new Error(`"${words}" is not in the text`);
    view.dispatch({ selection: { anchor: at + words.length }, scrollIntoView: true });
    view.focus();
  }, words);
}

// How long it takes: measured and told, held against nothing but what would be broken; and a file of 5 MB.

import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { browser, files, give, holds, open, page, patience, root, same, settled, text, visit, visitor } from './steps.mjs';

function middle(all) {
  return [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];
}

/** What a keystroke costs the catalogue: the edit with the findings of its file. */
async function keystrokes(tab, count) {
  return tab.evaluate(async (count) => {
    const took = [];
    const { levare } = window;
    const { doc } = levare.view.state;
    const line = Math.floor(doc.lines / 2);
    for (let n = 0; n < count; n += 1) {
      const began = performance.now();
      levare.room.ask({ ask: 'edit', file: levare.open, edits: [{ at: [line, 0, line, 0], text: 'x' }] });
      await levare.room.ask({ ask: 'found', file: levare.open, written: null });
      took.push(performance.now() - began);
      await levare.room.ask({ ask: 'edit', file: levare.open, edits: [{ at: [line, 0, line, 1], text: '' }] });
    }
    return took;
  }, count);
}

const FINDING = '#findings .finding, .cm-lintRange';

/** Makes something else of what was found on the last visit, or takes it out of the browser's keeping. */
const changed = (tab, told) => tab.evaluate((told) => new Promise((done, bad) => {
  const request = indexedDB.open('levare', 1);
  request.onerror = bad;
  request.onsuccess = () => {
    const store = request.result.transaction('catalogs', 'readwrite').objectStore('catalogs');
    store.getAll().onsuccess = ({ target }) => {
      target.result.forEach((one) => store.put({ ...one, told: told && { ...one.told, ...told } }));
      store.transaction.oncomplete = () => done();
    };
  };
}), told);
const forgets = (tab) => changed(tab, undefined);
const ages = (tab) => changed(tab, { day: '2020-02-02' });
const outgrown = (tab) => changed(tab, { digest: 'of an earlier page' });

/** Milliseconds from opening a file to the first of something on it. */
async function firstSeen(context, file, what, before = null) {
  const tab = await context.newPage();
  if (before) {
    await tab.goto(pathToFileURL(file).href);
    await settled(tab);
    await tab.waitForTimeout(300);
    await before(tab);
  }
  await tab.addInitScript((what) => {
    const look = () => (document.querySelector(what) ? (window.first = performance.now()) : setTimeout(look, 2));
    look();
  }, what);
  await tab.goto(pathToFileURL(file).href);
  await tab.waitForFunction(() => window.first);
  const took = await tab.evaluate(() => window.first);
  if (what === FINDING) await settled(tab);
  // What was looked through is kept, for the next one.
  await tab.waitForTimeout(300);
  await tab.close();
  return took;
}

/**
 * Milliseconds of a first visit: until the page asks which catalogue it is to be, and from the answer, which a person
 * gives after a second at the soonest, to the first finding.
 */
async function firstEver(chrome) {
  const context = await visitor(chrome);
  const tab = await context.newPage();
  await tab.goto(pathToFileURL(page).href);
  await tab.locator('dialog .item').first().waitFor();
  const asks = await tab.evaluate(() => performance.now());
  await tab.waitForTimeout(1000);
  await tab.evaluate((what) => {
    document.addEventListener('click', () => {
      const began = performance.now();
      const look = () => (document.querySelector(what) ? (window.first = performance.now() - began) : setTimeout(look, 2));
      look();
    }, { capture: true, once: true });
  }, FINDING);
  await open(tab, 'invented year');
  const answered = await tab.evaluate(() => window.first);
  await context.close();
  return { asks, answered };
}

export async function fast() {
  const chrome = await browser();
  const told = [];
  // Opened again, as on every later day.
  const context = await visitor(chrome);
  let tab = await visit(context);
  await open(tab, 'invented year');
  await tab.evaluate(() => window.levare.keep());
  await tab.close();
  // Beside it a page that holds nothing but one line, and the same page where nothing is known of before.
  const bare = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'levare-bare-')), 'bare.html');
  fs.writeFileSync(bare, '<!doctype html><title>bare</title><p class="first">one line</p>');
  const took = { bare: [], again: [], later: [], newer: [], fresh: [], asks: [], answered: [] };
  for (let n = 0; n < 5; n += 1) {
    took.bare.push(await firstSeen(context, bare, '.first'));
    took.again.push(await firstSeen(context, page, FINDING));
    took.later.push(await firstSeen(context, page, FINDING, ages));
    took.newer.push(await firstSeen(context, page, FINDING, outgrown));
    took.fresh.push(await firstSeen(context, page, FINDING, forgets));
    const ever = await firstEver(chrome);
    took.asks.push(ever.asks);
    took.answered.push(ever.answered);
  }
  const [again, later, newer, fresh, least, asks, answered] = [took.again, took.later, took.newer, took.fresh, took.bare, took.asks, took.answered].map(middle);
  const times = (one) => `${Math.round(one)} ms (${(one / least).toFixed(1)} times as long as a page of one line)`;
  told.push(`first finding ${times(again)} after opening, ${times(later)} on another day, ${times(newer)} with a newer page, ${times(fresh)} where nothing is known of before`);
  told.push(`on a first visit the page asks after ${times(asks)}, and the first finding stands ${times(answered)} after the answer`);
  tab = await visit(context);
  await settled(tab);

  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-many-'));
  const made = process.env.INVENTED ? process.env.INVENTED.split(' ') : ['cargo', 'run', '--quiet', '--example', 'invented', '--'];
  const ran = spawnSync(made[0], [...made.slice(1), folder, '1000', '20'], { cwd: root, encoding: 'utf8' });
  holds(ran.status === 0, `the invented cards could not be made: ${ran.stderr}`);
  await give(tab, 'many', files(folder));
  await tab.evaluate(() => window.levare.show(window.levare.names().find((name) => name.includes('piece')) ?? window.levare.open));
  await settled(tab);
  told.push(`a keystroke's findings among 1,000 pieces ${middle(await keystrokes(tab, 30)).toFixed(1)} ms`);

  // 5 MB in one file: it opens, it is typed in, and typing does not wait for what is found.
  const all = Object.values(files(folder)).map(String).join('\n');
  let large = all;
  for (let n = 0; large.length < 5e6; n += 1) large += `\n${all.replace(/^((?:piece|ensemble|concert|criteria|bundle|list|skill|instrument) "[^"\n]*)"/gm, `$1 ${n}"`)}`;
  const began = Date.now();
  await give(tab, 'large', { 'large.levare': large }, 20 * patience);
  told.push(`a file of ${(large.length / 1e6).toFixed(1)} MB looked through in ${((Date.now() - began) / 1000).toFixed(1)} s`);
  await tab.evaluate(() => window.levare.view.focus());
  await tab.keyboard.press('Control+End');
  const waits = await tab.evaluate(() => {
    window.waits = [];
    document.addEventListener('keydown', () => {
      const began = performance.now();
      requestAnimationFrame(() => setTimeout(() => window.waits.push(performance.now() - began)));
    }, true);
  });
  same(waits, undefined, 'waits');
  await tab.keyboard.type('\npiece "The Last One"', { delay: 40 });
  await tab.waitForTimeout(300);
  const typed = await tab.evaluate(() => window.waits);
  holds((await text(tab)).trimEnd().endsWith('piece "The Last One"'), 'what was typed does not stand at the end');
  told.push(`a key in it is drawn after ${Math.round(middle(typed))} ms`);
  await chrome.close();
  return told.join('; ');
}

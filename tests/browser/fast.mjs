// How long it takes: measured and told, held against nothing but what would be broken; and a file of 5 MB.

import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { browser, files, give, holds, open, patience, root, same, settled, text, visit, visitor } from './steps.mjs';

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

export async function fast() {
  const chrome = await browser();
  const told = [];
  // Opened again, as on every later day.
  const context = await visitor(chrome);
  let tab = await visit(context);
  await open(tab, 'invented year');
  await tab.evaluate(() => window.levare.keep());
  await tab.close();
  const firsts = [];
  for (let n = 0; n < 3; n += 1) {
    tab = await context.newPage();
    await tab.addInitScript(() => {
      const look = () => (document.querySelector('#findings .finding, .cm-lintRange') ? (window.first = performance.now()) : setTimeout(look, 2));
      look();
    });
    await tab.goto(new URL(`file://${process.env.PAGE ?? path.join(root, 'target/browser/levare.html')}`).href);
    await tab.waitForFunction(() => window.first);
    firsts.push(await tab.evaluate(() => window.first));
    await settled(tab);
    if (n < 2) await tab.close();
  }
  told.push(`first finding ${Math.round(middle(firsts))} ms after opening`);

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

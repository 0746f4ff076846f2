// The first five minutes: from the page to a true finding and a page for the door, typed by keystrokes and photographed.

import fs from 'node:fs';
import path from 'node:path';
import { browser, holds, pick, same, settled, shots, text, visit, visitor } from './steps.mjs';

const LINES = ['xylophone 25-56', 'crash cymbals 9-24, 41-80', 'tom-toms 1-24, 41-64', 'triangle 41-56, 65-72', 'tambourine 41-56'];

export async function first() {
  const chrome = await browser();
  const context = await visitor(chrome);
  const began = Date.now();
  const tab = await visit(context);
  let number = 0;
  const shoot = (name) => tab.screenshot({ path: path.join(shots, `first-${++number}-${name}.png`) });
  await tab.waitForSelector('dialog');
  await shoot('which-catalog');
  await pick(tab, 'five-minute tour');
  await tab.waitForSelector('#tour:not([hidden])');
  await settled(tab);
  await shoot('a-catalog');
  // The first step is done by a click at the end of the last line, as it says.
  const last = tab.locator('.cm-line', { hasText: 'bass drum       1-80' });
  await last.click();
  await tab.keyboard.press('End');
  await tab.waitForFunction(() => document.querySelector('#tour h2').textContent.startsWith('2 of 5'));
  for (const line of LINES) {
    await tab.keyboard.press('Enter');
    await tab.keyboard.type(line, { delay: 25 });
  }
  await tab.waitForFunction(() => document.querySelector('#tour h2').textContent.startsWith('3 of 5'));
  await settled(tab);
  await tab.waitForFunction(() => [...document.querySelectorAll('#findings .finding')].some((one) => /percussionist|player/.test(one.textContent)));
  const minute = Date.now() - began;
  const typed = await text(tab);
  // What was typed is in sight, though the list of findings has taken room.
  await tab.waitForFunction(() => {
    const { view } = window.levare;
    const cursor = view.coordsAtPos(view.state.selection.main.head);
    const { top, bottom } = view.scrollDOM.getBoundingClientRect();
    return cursor && cursor.top >= top && cursor.bottom <= bottom;
  }, null, { timeout: 5000 });
  for (const line of LINES) holds(typed.includes(`    ${line.split(' ')[0]}`), `"${line}" does not stand where it belongs:\n${typed}`);
  await shoot('five-lines');
  await tab.keyboard.press('Escape');
  await tab.keyboard.press('F8');
  await tab.waitForSelector('#notice:not([hidden])');
  const told = await tab.textContent('#notice');
  holds(/Drum Hill/.test(told) && /player|percussionist/.test(told), `the first finding is another: ${told}`);
  await shoot('first-finding');
  await tab.waitForFunction(() => document.querySelector('#tour h2').textContent.startsWith('4 of 5'));
  await tab.locator('#notice button', { hasText: 'Close' }).click();
  await tab.locator('#tour button', { hasText: 'Show the page' }).click();
  const frame = tab.frameLocator('#sheet');
  await frame.locator('svg').first().waitFor();
  const door = await frame.locator('body').textContent();
  holds(/Drum Hill/.test(door) && /xylophone/.test(door), 'the page for the door does not show what was typed');
  await shoot('door');
  // Printing shows the machine's own window, which no test can press a button of; that it is asked for is seen.
  await tab.evaluate(() => {
    document.getElementById('sheet').contentWindow.print = () => (window.printed = true);
  });
  await tab.click('#print');
  holds(await tab.evaluate(() => window.printed), 'nothing was printed');
  await tab.waitForFunction(() => document.querySelector('#tour h2').textContent.startsWith('5 of 5'));
  await shoot('yours');
  const html = await tab.evaluate(() => window.levare.sheets.html);
  const paper = await context.newPage();
  await paper.setContent(html);
  await paper.pdf({ path: path.join(shots, 'door.pdf'), preferCSSPageSize: true });
  holds(fs.statSync(path.join(shots, 'door.pdf')).size > 5000, 'the printed page is empty');
  await paper.screenshot({ path: path.join(shots, 'first-door-on-paper.png') });
  const all = Date.now() - began;
  same(context.amiss, [], 'the page complained');
  await chrome.close();
  holds(minute < 60000 && all < 300000, `the first finding took ${minute} ms, the page for the door ${all} ms`);
  return `first finding after ${(minute / 1000).toFixed(1)} s, page for the door after ${(all / 1000).toFixed(1)} s, all typed by keys`;
}

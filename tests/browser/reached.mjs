// By the keyboard alone, and by those who hear the page: what the accessibility checker finds, in every state.

import { createRequire } from 'node:module';
import fs from 'node:fs';
import path from 'node:path';
import { behind, browser, give, holds, open, same, settled, shots, text, visit, visitor } from './steps.mjs';

const axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

async function faults(tab, where) {
  const found = await tab.evaluate(async () => {
    const { violations } = await window.axe.run(document, { iframes: false, resultTypes: ['violations'] });
    // The list of offers is gone through by the arrow keys while the text keeps the keyboard (WAI-ARIA 1.2, combobox),
    // which the checker does not see.
    const ours = ({ id }) => (node) => !(id === 'scrollable-region-focusable' && String(node.target).startsWith('#cm-ac-'));
    const found = violations.map((one) => ({ ...one, nodes: one.nodes.filter(ours(one)) })).filter(({ nodes }) => nodes.length);
    return found.map(({ id, impact, nodes }) => `${id} (${impact}): ${nodes.slice(0, 3).map((node) => `${node.target} ${node.failureSummary?.split('\n')[1] ?? ''}`).join('; ')}`);
  });
  same(found, [], `accessibility, ${where}`);
}

async function checked(chrome, scheme) {
  const context = await visitor(chrome, { colorScheme: scheme, bypassCSP: true });
  const tab = await visit(context);
  await tab.waitForSelector('dialog');
  await tab.evaluate(axe);
  await faults(tab, `${scheme}, which catalogue`);
  await tab.screenshot({ path: path.join(shots, `${scheme}-which.png`) });
  await open(tab, 'five-minute tour');
  await faults(tab, `${scheme}, the tour`);
  await tab.click('[data-do=catalogs]');
  await open(tab, 'invented year');
  await tab.evaluate(() => window.levare.show('concerts.levare', [0, 0]));
  await settled(tab);
  await tab.waitForTimeout(500);
  await faults(tab, `${scheme}, the invented year`);
  await tab.screenshot({ path: path.join(shots, `${scheme}-year.png`) });
  await limited(tab, scheme);
  await tab.keyboard.press('F8');
  await tab.waitForSelector('#notice:not([hidden])');
  await tab.waitForTimeout(300);
  await faults(tab, `${scheme}, a finding`);
  await tab.keyboard.press('Control+.');
  await tab.waitForSelector('dialog');
  await faults(tab, `${scheme}, what can be done`);
  await tab.keyboard.press('Escape');
  await tab.locator('.cm-lintRange').first().hover();
  await tab.waitForSelector('.cm-tooltip');
  await tab.waitForTimeout(400);
  await tab.screenshot({ path: path.join(shots, `${scheme}-hover.png`) });
  await faults(tab, `${scheme}, a hover`);
  await tab.evaluate(() => window.levare.view.focus());
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type('\npiece "New One"\n', { delay: 10 });
  await tab.keyboard.press('Control+Space');
  await tab.waitForSelector('.cm-tooltip-autocomplete');
  await tab.waitForTimeout(200);
  await tab.screenshot({ path: path.join(shots, `${scheme}-offers.png`) });
  await faults(tab, `${scheme}, offers`);
  // A planted fault is seen.
  await tab.evaluate(() => document.querySelector('footer').insertAdjacentHTML('beforeend', '<button></button>'));
  let seen = false;
  await faults(tab, 'planted').catch(() => (seen = true));
  holds(seen, 'a planted fault is not seen');
  await context.close();
}

/** Conditions and a sum typed beside the text: what is not understood is told there, the rest is kept to. */
async function limited(tab, scheme) {
  holds(!await tab.isVisible('#only'), 'conditions for a page for the door');
  await tab.check('[name=which][value=choose]');
  for (const [typed, told] of [['up to zqxv', 'zqxv'], ['up to 3 flats', '']]) {
    await tab.click('#only', { clickCount: 3 });
    await tab.keyboard.type(typed, { delay: 10 });
    await tab.keyboard.press('Tab');
    await tab.keyboard.type('$120', { delay: 10 });
    await tab.keyboard.press('Tab');
    await tab.waitForFunction((told) => {
      const why = document.getElementById('why-not');
      return told ? !why.hidden && why.textContent.includes(told) : why.hidden && !document.getElementById('sheet').hidden;
    }, told);
    await tab.keyboard.press('Shift+Tab');
    await tab.keyboard.press('Delete');
  }
  await faults(tab, `${scheme}, choosing`);
  await tab.screenshot({ path: path.join(shots, `${scheme}-choosing.png`) });
  await tab.check('[name=which][value=buy]');
  holds(await tab.isVisible('#most') && !await tab.isVisible('#only'), 'an order has a sum, and no conditions');
  await tab.check('[name=which][value=door]');
  await tab.evaluate(() => window.levare.view.focus());
}

/** Narrow, and twice as large: everything is there, and nothing runs out of the page sideways. */
async function narrow(chrome) {
  for (const [name, viewport, scale] of [['phone', { width: 360, height: 740 }, 2], ['twice', { width: 700, height: 450 }, 2]]) {
    const context = await visitor(chrome, { viewport, deviceScaleFactor: scale, bypassCSP: true });
    const tab = await visit(context);
    await tab.waitForSelector('dialog');
    await tab.evaluate(axe);
    await open(tab, 'invented year');
    const wide = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    holds(wide <= 1, `${name}: the page is ${wide} pixels too wide`);
    await faults(tab, name);
    await tab.screenshot({ path: path.join(shots, `${name}.png`), fullPage: true });
    await context.close();
  }
}

/** Offers come up for what was typed fast while the catalogue was slow to answer. */
async function late(chrome) {
  const context = await visitor(chrome);
  const tab = await visit(context);
  await give(tab, 'slow', { 'pieces.levare': 'piece "Gravel Road"\n' });
  await tab.evaluate(() => {
    const { room } = window.levare;
    const ask = room.ask.bind(room);
    room.ask = async (question) => {
      const answer = ask(question);
      if (question.ask === 'offers') await new Promise((done) => setTimeout(done, 250));
      return answer;
    };
  });
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type('  gra', { delay: 110 });
  await tab.waitForSelector('.cm-tooltip-autocomplete', { timeout: 10000 });
  same(context.amiss, [], 'the page complained');
  await context.close();
}

/** No mouse at all: a catalogue is opened, written in, gone about, fixed, renamed and saved. */
async function keys(chrome) {
  const context = await visitor(chrome);
  const tab = await visit(context);
  await tab.waitForSelector('dialog');
  const focused = () => tab.evaluate(() => document.activeElement.textContent?.trim().slice(0, 60));
  await tab.keyboard.press('ArrowDown');
  holds(/invented year/.test(await focused()), `the arrow went to "${await focused()}"`);
  await tab.keyboard.press('Enter');
  await settled(tab);
  holds(await tab.evaluate(() => window.levare.view.hasFocus), 'the text has the keyboard');
  // Round all parts and back.
  const parts = [];
  for (let n = 0; n < 6; n += 1) {
    await tab.keyboard.press('F6');
    parts.push(await tab.evaluate(() => ['nav', '#shelf', '#tour', '#text', '#found', '#beside'].find((one) => document.querySelector(one).contains(document.activeElement))));
  }
  same(parts, ['#found', '#beside', 'nav', '#shelf', '#text', '#found'], 'F6 goes round');
  await tab.evaluate(() => window.levare.view.focus());
  // The Tab key is no trap.
  await tab.keyboard.press('Tab');
  holds(!(await tab.evaluate(() => window.levare.view.hasFocus)), 'the Tab key stays in the text');
  await tab.keyboard.press('Control+k');
  await tab.keyboard.type('a march');
  await tab.waitForSelector('dialog .choices .item');
  await tab.keyboard.press('Enter');
  await tab.waitForFunction(() => !document.querySelector('dialog') && window.levare.open.startsWith('pieces/'));
  await settled(tab);
  // From a program to the card, and the card's uses.
  await tab.evaluate(() => window.levare.show('concerts.levare'));
  const title = await tab.evaluate(() => /program\s*\n\s+"([^"]+)"/.exec(window.levare.text('concerts.levare'))[1]);
  await behind(tab, `"${title.slice(0, 4)}`);
  await tab.keyboard.press('F12');
  await tab.waitForFunction(() => window.levare.open.startsWith('pieces/'));
  const line = () => tab.evaluate(() => {
    const { state } = window.levare.view;
    return state.doc.lineAt(state.selection.main.head).text;
  });
  holds((await line()).includes(title), `F12 went to "${await line()}"`);
  await settled(tab);
  await tab.keyboard.press('F2');
  await tab.waitForSelector('dialog input');
  await tab.keyboard.press('Control+a');
  await tab.keyboard.type('Quite Another Name');
  await tab.keyboard.press('Enter');
  await tab.waitForFunction(() => window.levare.text('concerts.levare').includes('"Quite Another Name"'));
  holds(!(await tab.evaluate((title) => window.levare.text('concerts.levare').includes(`"${title}"`), title)), 'the old name still stands in the program');
  await settled(tab);
  await context.close();

  await late(chrome);

  // Offers, fixes, recopying, folding, in a catalogue of one file.
  const other = await visitor(chrome);
  const page = await visit(other);
  await give(page, 'keys', { 'pieces.levare': 'piece "Gravel Road"\n  tonal centre    Bb\n  measurs         40\n' });
  await page.keyboard.press('Control+End');
  await page.keyboard.type('  gra', { delay: 30 });
  await page.waitForSelector('.cm-tooltip-autocomplete');
  // An offer that has only just appeared is not taken by a key that was meant for the text.
  await page.waitForTimeout(200);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  holds(/^ {2}grade/m.test(await text(page)), `the offer was not taken: ${await text(page)}`);
  await page.keyboard.type('2');
  await settled(page);
  await behind(page, 'measurs');
  await page.keyboard.press('Control+.');
  await page.waitForSelector('dialog .item');
  await page.locator('dialog .item', { hasText: 'measures' }).first().focus();
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /^ {2}measures/m.test(window.levare.text(window.levare.open)));
  await page.keyboard.press('Control+z');
  holds(/measurs/.test(await text(page)), 'a fix can be taken back');
  await page.keyboard.press('Control+y');
  await settled(page);
  const offered = await page.evaluate(() => window.levare.asked({ ask: 'recopy' }));
  await page.evaluate(() => window.levare.do.recopy());
  await settled(page);
  same(await page.evaluate(() => window.levare.asked({ ask: 'recopy' })), [], `recopied, nothing is left to recopy: ${JSON.stringify(offered)}`);
  await page.keyboard.press('Escape');
  await page.evaluate(() => window.levare.show(window.levare.open, [0, 0]));
  await page.keyboard.press('Control+Shift+BracketLeft');
  await page.waitForSelector('.cm-foldPlaceholder');
  const download = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  await download;
  same([...context.amiss, ...other.amiss], [], 'the page complained');
  await other.close();
}

export async function reached() {
  const chrome = await browser();
  for (const scheme of ['light', 'dark']) await checked(chrome, scheme);
  await narrow(chrome);
  await keys(chrome);
  await chrome.close();
  return 'light and dark in eight states, narrow, twice as large, keys alone';
}


// Types into a card as a director would, and notes what the editor offers on the way; looks at the line above a
// card and the facts beside words; gives a card another name.

import fs from 'node:fs';
import path from 'node:path';

const pause = (ms) => new Promise((done) => setTimeout(done, ms));
const list = '.suggest-widget.visible .monaco-list-row';

/** Types it all; gives what was seen, and puts what is not as wanted into `wrong`. */
export async function typing(page, want, { folder, patience, shoot, goTo, wrong }) {
  const seen = { typed: [] };
  const differs = (what, expected, got) => wrong.push({ what, expected, got });
  const onDisk = (file) => fs.readFileSync(path.join(folder, file), 'utf8');

  const said = page.locator('.monaco-editor .codelens-decoration');
  await said.first().waitFor({ timeout: patience });
  await pause(1500);
  seen.lenses = await said.allInnerTexts();
  for (const words of want.lens ?? []) {
    if (!seen.lenses.some((text) => text.replaceAll('\u00a0', ' ').includes(words))) differs('line above a card', words, seen.lenses);
  }
  seen.lines = (await page.locator('.monaco-editor .view-lines').first().innerText()).replaceAll('\u00a0', ' ');
  for (const words of want.hints ?? []) {
    if (!seen.lines.includes(words)) differs('fact beside a word', words, seen.lines);
  }
  await shoot('lines');
  if (seen.lenses.length > 0) {
    // The line's command goes to the one place that uses the card.
    await said.first().locator('a').first().click();
    await pause(2500);
    await shoot('uses');
    const shown = await page.locator('.tab.active').first().innerText();
    if (want.uses && !shown.includes(want.uses)) differs('where a line above a card leads', want.uses, shown);
    await page.locator('.explorer-folders-view .monaco-list-row', { hasText: path.basename(want.file) }).first().dblclick();
    await pause(1500);
  }

  if (want.rename) {
    await goTo(want.rename);
    await page.keyboard.press('F2');
    // The box is in the page before it is shown, and takes the keys a moment after that.
    const box = page.locator('.rename-box input').first();
    for (let i = 0; i < 100 && !(await box.inputValue().catch(() => '')); i++) await pause(100);
    await pause(500);
    await box.fill(want.rename.to);
    await shoot('rename');
    await box.press('Enter');
    await pause(1500);
    await page.keyboard.press('Control+k');
    await page.keyboard.press('s');
    for (const [file, line] of Object.entries(want.rename.also)) {
      let lines = [];
      for (let i = 0; i < 100 && !lines.includes(line); i++) {
        await pause(100);
        lines = onDisk(file).split(/\r?\n/);
      }
      if (!lines.includes(line)) differs(`renamed in ${file}`, line, lines);
    }
  }

  await page.locator('.monaco-editor .view-line').first().click();
  await page.keyboard.press('Control+End');
  for (const step of want.typing) {
    for (const [at, line] of step.keys.split('\n').entries()) {
      if (at > 0) {
        await page.keyboard.press('Escape');
        await page.keyboard.press('Enter');
        await pause(400);
      }
      await page.keyboard.type(line, { delay: 40 });
    }
    const note = { typed: step.keys, offered: [] };
    seen.typed.push(note);
    if (!step.offers) continue;
    const row = page.locator(list, { hasText: step.offers });
    try {
      await row.first().waitFor({ timeout: 6000 });
    } catch {
      note.offered = await page.locator(list).allInnerTexts();
      differs(`offered at ${JSON.stringify(step.keys)}`, step.offers, note.offered);
      await shoot(`nothing-${seen.typed.length}`);
      continue;
    }
    note.offered = (await page.locator(list).allInnerTexts()).map((text) => text.trim());
    if (step.take) {
      for (let i = 0; i < 12; i++) {
        const chosen = await page.locator(`${list}.focused`).allInnerTexts();
        if (chosen.some((text) => text.includes(step.offers))) break;
        await page.keyboard.press('ArrowDown');
        await pause(100);
      }
      if (step.keys.includes('key')) await shoot('offers');
      await page.keyboard.press('Tab');
      await pause(500);
    }
  }
  await page.keyboard.press('Escape');
  await page.keyboard.press('Enter');
  await pause(800);
  await shoot('typed');
  await page.keyboard.press('Control+s');
  await pause(1500);
  seen.text = onDisk(want.file).split(/\r?\n/);
  for (const line of want.typed) {
    if (!seen.text.includes(line)) differs('typed', line, seen.text);
  }
  return seen;
}

// Types whole pages as a director would, key by key at several speeds, and compares what lies on the disk with
// what was typed. Nothing is pressed that a director would not press: no key to close a list of offers.

import fs from 'node:fs';
import path from 'node:path';

const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** What is compared: the depth of every line and its words. How wide a gap within a line is, is no matter. */
export function plain(text) {
  const lines = text.split(/\r?\n/).map((line) => {
    const words = line.trim();
    return words && line.slice(0, line.length - line.trimStart().length) + words.split(/\s+/).join(' ');
  });
  while (lines.length > 0 && lines.at(-1) === '') lines.pop();
  return lines;
}

/** A line as single keys: letters, and keys with names in braces. */
export function keysOf(line) {
  return [...line.matchAll(/\{([^}]+)\}|[\s\S]/gu)].map(([whole, name]) => name ?? (whole === ' ' ? 'Space' : whole));
}

/** Types all pages at all speeds; gives what was seen, and puts what is not as wanted into `wrong`. */
export async function keys(page, want, { folder, patience, shoot, wrong }) {
  const seen = { typed: [] };
  for (const delay of want.delays) {
    for (const { file, keys, text } of want.pages) {
      await page.locator('.explorer-folders-view .monaco-list-row', { hasText: file }).first().dblclick();
      await page.locator('.tab.active', { hasText: file }).waitFor({ timeout: patience });
      await page.locator('.monaco-editor .view-line').first().click();
      // An empty page for each speed.
      await page.keyboard.press('Control+a');
      await page.keyboard.press('Delete');
      await page.keyboard.press('Control+s');
      await pause(1500);
      for (const [at, line] of keys.entries()) {
        for (const key of [...(at > 0 ? ['Enter'] : []), ...keysOf(line)]) {
          await page.keyboard.press(key);
          await pause(delay);
        }
      }
      await page.keyboard.press('Control+s');
      await pause(1000);
      await shoot(`typed-${delay}-${path.basename(file, '.levare')}`);
      const got = plain(fs.readFileSync(path.join(folder, file), 'utf8'));
      seen.typed.push({ delay, file, got });
      if (got.join('\n') !== text.join('\n')) wrong.push({ what: `${file} typed at ${delay} ms a key`, expected: text, got });
    }
  }
  return seen;
}

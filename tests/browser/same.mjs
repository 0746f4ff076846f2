// The same catalogue, the same findings, byte for byte, from the page and from the command line.

import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { browser, files, give, holds, lines, open, program, root, said, same, settled, visit, visitor } from './steps.mjs';

function differs(found, wanted, what) {
  if (found === wanted) return;
  const [a, b] = [found.split('\n'), wanted.split('\n')];
  const at = a.findIndex((line, n) => line !== b[n]);
  throw new Error(`${what}: line ${at + 1} differs\n  page:    ${a[at]?.slice(0, 600)}\n  program: ${b[at]?.slice(0, 600)}`);
}

/** The invented cards, as many as are asked for. */
function invented() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-invented-'));
  const made = process.env.INVENTED ? process.env.INVENTED.split(' ') : ['cargo', 'run', '--quiet', '--example', 'invented', '--'];
  const ran = spawnSync(made[0], [...made.slice(1), folder, '500'], { cwd: root, encoding: 'utf8' });
  holds(ran.status === 0, `the invented cards could not be made: ${ran.stderr}`);
  return folder;
}

/** Words as they follow each other, however they are set in lines. */
const flat = (words) => words.split(/\s+/).filter(Boolean).join(' ');

/** What the page answers about cards, beside what the commands say that ask the same; how many answers there were. */
async function answers(tab, folder, day) {
  const cards = (await tab.evaluate(() => window.levare.texts())).flatMap(({ file, text }) => text.split(/\r?\n/).flatMap((line, at) => {
    const found = /^(concert|ensemble|piece) "([^"]+)"/.exec(line);
    return found ? [{ file, at: [at, 0], kind: found[1], name: found[2] }] : [];
  }));
  const some = (kind, most) => cards.filter((card) => card.kind === kind).slice(0, most);
  const asked = [
    ...some('concert', 20).flatMap((card) => ['choose', 'teach', 'buy'].map((which) => ({ ...card, which, words: [which, card.name] }))),
    ...some('ensemble', 5).flatMap((card) => ['choose', 'teach'].map((which) => ({ ...card, which, words: [which, card.name] }))),
    ...some('piece', 8).flatMap((card) => ['buy', 'library'].map((which) => ({ ...card, which, words: [which, card.name] }))),
    ...['buy', 'library', 'season'].map((which) => ({ ...some('ensemble', 1)[0], which, words: [which] })),
    { ...some('piece', 1)[0], which: 'teach', words: ['teach'] },
    // With what is typed beside it.
    ...some('concert', 3).flatMap((card) => [
      { ...card, which: 'choose', given: { words: 'up to 3 flats', budget: '$120' }, words: ['choose', card.name, '--with', 'up to 3 flats', '--budget', '$120'] },
      { ...card, which: 'buy', given: { budget: '80 USD' }, words: ['buy', card.name, '--budget', '80 USD'] },
      { ...card, which: 'choose', given: { words: 'up to 3 zqxv' }, words: ['choose', card.name, '--with', 'up to 3 zqxv'] },
    ]),
    { ...some('ensemble', 1)[0], which: 'season', given: { budget: '$300' }, words: ['season', '--budget', '$300'] },
  ];
  const told = { answered: 0, refused: 0 };
  for (const { file, at, which, given, words } of asked) {
    const page = await tab.evaluate(async (question) => {
      const answer = await window.levare.room.ask({ ask: 'answer', size: 'letter', ...question });
      if (answer.amiss) return { amiss: answer.amiss };
      const { body } = new DOMParser().parseFromString(answer.html, 'text/html');
      const parts = [...body.querySelectorAll('h1, h2, p, li, th, td, pre')].map((one) => one.textContent);
      return { first: parts[0], rest: parts.slice(1).join(' ') };
    }, { file, at, which, ...given });
    const ran = spawnSync(program, [...words, '--today', day], { cwd: folder, encoding: 'utf8' });
    const called = words.join(' ');
    if (page.amiss) {
      told.refused += 1;
      holds(flat(`${ran.stdout} ${ran.stderr}`).includes(flat(page.amiss)), `levare ${called}: the page says "${page.amiss}", the program "${ran.stdout}${ran.stderr}"`);
      continue;
    }
    told.answered += 1;
    // A head that is what the page is about stands above it.
    const said = flat(ran.stdout);
    holds(said && [flat(page.rest), flat(`${page.first} ${page.rest}`)].includes(said), `levare ${called}\n  page:    ${flat(page.rest).slice(0, 900)}\n  program: ${said.slice(0, 900)}\n${ran.stderr}`);
  }
  holds(told.answered > 20, `only ${told.answered} answers, and ${told.refused} questions refused`);
  return told.answered;
}

export async function sames() {
  const chrome = await browser();
  const context = await visitor(chrome);
  const tab = await visit(context);
  let count = 0;
  // The invented year, as the page brings it along.
  await open(tab, 'invented year');
  const demo = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'levare-demo-')), 'year');
  const made = spawnSync(program, ['start', demo, '--demo'], { encoding: 'utf8' });
  holds(made.status === 0, `the program could not write the demo: ${made.stderr}${made.stdout}`);
  for (const least of ['information', 'hint']) {
    const page = await lines(tab, least);
    holds(page.split('\n').length > 5, 'the demo has findings');
    differs(page, said(demo, '2026-10-20', least), `demo, ${least}`);
    count += page.split('\n').length - 1;
  }
  const answered = await answers(tab, demo, '2026-10-20');
  const folders = ['hasty', 'neat', 'odd', 'planned', 'river', 'summit'].map((name) => path.join(root, 'tests/catalogues', name));
  for (const folder of [...folders, invented()]) {
    const name = path.basename(folder);
    await give(tab, name, files(folder));
    const day = await tab.evaluate(() => {
      const now = new Date();
      return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
    });
    for (const least of ['information', 'hint']) {
      const page = await lines(tab, least);
      differs(page, said(folder, day, least), `${name}, ${least}`);
      count += page.split('\n').length - 1;
    }
  }
  // After typing, the same as of the text that stands there then.
  await give(tab, 'neat-again', files(folders[1]));
  const shown = await tab.evaluate(() => window.levare.names().find((name) => /piece/.test(name)) ?? window.levare.open);
  await tab.evaluate((name) => window.levare.show(name), shown);
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type('\n\npiece "Quiet Harbor"\nkey signature 3 flatz\nmeasures 12\nfoo bar', { delay: 8 });
  await settled(tab);
  const texts = await tab.evaluate(() => window.levare.texts());
  const typed = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-typed-'));
  for (const { file, text } of texts) {
    fs.mkdirSync(path.dirname(path.join(typed, file)), { recursive: true });
    fs.writeFileSync(path.join(typed, file), text);
  }
  const day = new Date();
  const today = [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
  const page = await lines(tab, 'hint');
  holds(/flatz/.test(page), 'what was typed is found');
  differs(page, said(typed, today, 'hint'), 'typed');
  // A planted difference is seen.
  let seen = false;
  try {
    differs(page.replace('flatz', 'flats'), page, 'planted');
  } catch {
    seen = true;
  }
  holds(seen, 'a planted difference is not seen');
  same(context.amiss, [], 'the page complained');
  await chrome.close();
  return `${count} findings of 8 catalogs the same, byte for byte, and ${answered} answers, word for word`;
}


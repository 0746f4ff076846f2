// Files of the machine: a folder is written back, files are dropped on the page, and nobody loses anything unasked.

import fs from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { zipSync } from 'fflate';
import { behind, browser, holds, open, page, same, settled, visit, visitor } from './steps.mjs';

const FILES = {
  'band.levare': 'ensemble "Mill Street Band"\r\n  players\r\n    flute           4\r\n',
  'pieces/marches.levare': '\uFEFFpiece "Gravel Road"\n  measures        40\n',
  'pieces/odd.levare': 'piece "Fünf 𝄞"\n\tmeasures\t12',
  'notes.txt': 'not a card',
};

/** The page on a server, as a school would put it there: a folder that can be written is given to no page of a disk. */
async function served() {
  const server = http.createServer((request, answer) => {
    if (request.url !== '/levare.html') return answer.writeHead(404).end();
    return answer.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(fs.readFileSync(page));
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return { server, address: `http://127.0.0.1:${server.address().port}/levare.html` };
}

/** A real folder of the browser's own, with its real handles, stands in for the one that its window would choose. */
async function folder(tab, files) {
  await tab.evaluate(async (files) => {
    const root = await (await navigator.storage.getDirectory()).getDirectoryHandle('Mill Street', { create: true });
    window.written = async (file, text) => {
      const parts = file.split('/');
      const name = parts.pop();
      let at = root;
      for (const part of parts) at = await at.getDirectoryHandle(part, { create: true });
      const out = await (await at.getFileHandle(name, { create: true })).createWritable();
      await out.write(text);
      await out.close();
    };
    window.onDisk = async () => {
      const all = {};
      const walk = async (at, before) => {
        for await (const [name, one] of at.entries()) {
          if (one.kind === 'directory') await walk(one, `${before}${name}/`);
          else {
            const there = await one.getFile();
            all[`${before}${name}`] = { text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(await there.arrayBuffer()), when: there.lastModified };
          }
        }
      };
      await walk(root, '');
      return all;
    };
    for (const [file, text] of Object.entries(files)) await window.written(file, text);
    window.showDirectoryPicker = async () => root;
  }, files);
}

const onDisk = (tab) => tab.evaluate(() => window.onDisk());

async function writtenBack(chrome) {
  const { server, address } = await served();
  const context = await visitor(chrome, { offline: false });
  const tab = await context.newPage();
  await tab.goto(address);
  await tab.waitForSelector('dialog');
  await folder(tab, FILES);
  const before = await onDisk(tab);
  await open(tab, 'Open a folder');
  same(await tab.textContent('#catalog'), 'Mill Street', 'the folder gives the catalog its name');
  // Written back untouched, nothing is written at all.
  await tab.waitForTimeout(20);
  await tab.keyboard.press('Control+s');
  await tab.waitForFunction(() => /Saved/.test(document.getElementById('kept').textContent));
  same(await onDisk(tab), before, 'saving without a change wrote something');

  await tab.evaluate(() => window.levare.show('pieces/marches.levare'));
  await behind(tab, 'measures        40');
  await tab.keyboard.press('Enter');
  await tab.keyboard.type('grade 2', { delay: 10 });
  await tab.keyboard.press('Enter');
  await settled(tab);
  // A file that did not exist is made in the folder.
  await tab.evaluate(() => window.levare.make_file('pieces/new.levare', 'piece "New"\n'));
  await settled(tab);
  await tab.evaluate(() => (document.getElementById('kept').textContent = ''));
  await tab.keyboard.press('Control+s');
  await tab.waitForFunction(() => /Saved/.test(document.getElementById('kept').textContent));
  const after = await onDisk(tab);
  same(Object.keys(after).sort(), [...Object.keys(FILES), 'pieces/new.levare'].sort(), 'the files of the folder');
  for (const name of ['band.levare', 'pieces/odd.levare', 'notes.txt']) same(after[name], before[name], `${name} was not touched`);
  same(after['pieces/new.levare'].text, 'piece "New"\n', 'the new file');
  const written = after['pieces/marches.levare'].text;
  holds(written.startsWith('\uFEFFpiece "Gravel Road"\n  measures        40\n  grade           2\n'), `what was typed is not in the file: ${JSON.stringify(written)}`);

  // Somebody else writes in the file meanwhile: it is told before anything is written over.
  const theirs = `${written}piece "Of Another"\n`;
  await tab.evaluate((text) => window.written('pieces/marches.levare', text), theirs);
  await behind(tab, 'grade           2');
  await tab.keyboard.type(' ours', { delay: 10 });
  await settled(tab);
  await tab.keyboard.press('Control+s');
  await tab.waitForSelector('dialog');
  holds(/pieces\/marches\.levare/.test(await tab.textContent('dialog')), 'the file is not named');
  // The Enter key takes what harms nobody.
  await tab.keyboard.press('Enter');
  await tab.waitForFunction(() => !document.querySelector('dialog'));
  same((await onDisk(tab))['pieces/marches.levare'].text, theirs, 'it was written over unasked');
  await tab.keyboard.press('Control+s');
  await tab.locator('dialog button', { hasText: 'Write over it' }).click();
  await tab.waitForFunction(() => !document.querySelector('dialog'));
  await tab.waitForFunction(() => /Saved/.test(document.getElementById('kept').textContent));
  holds((await onDisk(tab))['pieces/marches.levare'].text.includes('grade           2 ours'), 'it was not written over though it was asked for');

  // On another day the folder is still known.
  await tab.reload();
  await settled(tab);
  await folder(tab, {});
  await tab.evaluate(() => window.levare.show('band.levare'));
  await behind(tab, 'flute           4');
  await tab.keyboard.type('5', { delay: 10 });
  await settled(tab);
  await tab.keyboard.press('Control+s');
  await tab.waitForFunction(() => /Saved/.test(document.getElementById('kept').textContent));
  same((await onDisk(tab))['band.levare'].text, FILES['band.levare'].replace('4\r\n', '45\r\n'), 'after a reload the folder is written back');
  same(context.amiss, [], 'the page complained');
  await context.close();
  server.close();
}

/** Drops files of the machine on the page, as the system does it. */
async function drop(tab, files) {
  const session = await tab.context().newCDPSession(tab);
  const data = { items: [], files, dragOperationsMask: 1 };
  // A hand stays above the page for a while: the page shows where to drop, and that lies above what was there.
  for (const type of ['dragEnter', 'dragOver', 'dragOver', 'dragOver', 'drop']) {
    await session.send('Input.dispatchDragEvent', { type, x: 500, y: 400, data });
    await tab.waitForTimeout(50);
  }
}

async function dropped(chrome) {
  const context = await visitor(chrome);
  const tab = await visit(context);
  await tab.waitForSelector('dialog');
  await tab.keyboard.press('Escape');
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'levare-drop-'));
  for (const [file, text] of Object.entries(FILES)) {
    fs.mkdirSync(path.dirname(path.join(place, 'Mill Street', file)), { recursive: true });
    fs.writeFileSync(path.join(place, 'Mill Street', file), text);
  }
  const cards = Object.fromEntries(Object.entries(FILES).filter(([name]) => name.endsWith('.levare')));
  const texts = async () => Object.fromEntries((await tab.evaluate(() => window.levare.texts())).map(({ file, text }) => [file, text]));
  const taken = async (count) => {
    await tab.waitForFunction((count) => window.levare.catalog?.files.length === count, count);
    await settled(tab);
  };
  const sorted = (all) => Object.fromEntries(Object.entries(all).sort());
  await drop(tab, [path.join(place, 'Mill Street')]);
  await taken(3);
  same(sorted(await texts()), sorted(cards), 'a folder that was dropped');
  await drop(tab, [path.join(place, 'Mill Street/band.levare')]);
  await taken(1);
  same(await texts(), { 'band.levare': FILES['band.levare'] }, 'a file that was dropped');
  const packed = Object.fromEntries(Object.entries(FILES).map(([name, text]) => [`Mill Street/${name}`, new TextEncoder().encode(text)]));
  fs.writeFileSync(path.join(place, 'all.zip'), zipSync(packed, { level: 9 }));
  await drop(tab, [path.join(place, 'all.zip')]);
  await taken(3);
  same(sorted(await texts()), sorted(cards), 'a .zip that was dropped');
  // What is no catalogue is told, and what is open stays.
  await drop(tab, [path.join(place, 'Mill Street/notes.txt')]);
  await tab.waitForFunction(() => /no cards/.test(document.getElementById('notice').textContent));
  same(sorted(await texts()), sorted(cards), 'what was open is gone');
  same(context.amiss, [], 'the page complained');
  await context.close();
}

/** Where the browser keeps nothing, leaving is asked about once something was typed, and not before. */
async function warned(chrome) {
  for (const broken of [true, false]) {
    const context = await visitor(chrome);
    const tab = await context.newPage();
    if (broken) {
      await tab.addInitScript(() => {
        IDBObjectStore.prototype.put = () => {
          throw new DOMException('full', 'QuotaExceededError');
        };
      });
    }
    await tab.goto(`file://${page}`);
    await open(tab, 'invented year');
    const asked = [];
    tab.on('dialog', (dialog) => {
      asked.push(dialog.type());
      dialog.accept();
    });
    await tab.keyboard.press('Control+End');
    await tab.keyboard.type('\npiece "Lost"', { delay: 10 });
    await settled(tab);
    if (broken) await tab.waitForFunction(() => /does not let Levare keep/.test(document.getElementById('kept').textContent));
    await tab.close({ runBeforeUnload: true });
    await new Promise((done) => setTimeout(done, 500));
    same(asked, broken ? ['beforeunload'] : [], broken ? 'leaving without a keeping browser' : 'leaving when all is kept');
    same(context.amiss, [], 'the page complained');
    await context.close();
  }
}

/**
 * What is shown at once on the next visit is what is found then; what was found by other code is not shown, and of what
 * was found on another day the list alone, with the day.
 */
async function remembered(chrome) {
  const context = await visitor(chrome);
  let tab = await visit(context);
  await open(tab, 'invented year');
  await tab.evaluate(() => window.levare.keep());
  await tab.close();
  const drawn = () => [document.getElementById('findings').textContent, document.getElementById('told').textContent, document.querySelectorAll('.cm-lintRange').length];
  const opened = async (spoil) => {
    tab = await context.newPage();
    await tab.addInitScript((spoil) => {
      // Nothing is answered until then, so that what stands there is what was kept.
      const { postMessage } = Worker.prototype;
      const held = [];
      Worker.prototype.postMessage = function post(data) {
        if (!window.letGo) held.push([this, data]);
        else postMessage.call(this, data);
      };
      window.let = () => {
        window.letGo = true;
        held.forEach(([worker, data]) => postMessage.call(worker, data));
      };
      const { getAll } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.getAll = function all(...given) {
        const request = getAll.apply(this, given);
        request.addEventListener('success', () => request.result.forEach((one) => one.told && Object.assign(one.told, spoil)));
        return request;
      };
    }, spoil);
    await tab.goto(`file://${page}`);
    await tab.waitForFunction(() => window.levare?.open);
    await tab.waitForTimeout(300);
    const before = await tab.evaluate(drawn);
    await tab.evaluate(() => window.let());
    await settled(tab);
    await tab.waitForTimeout(400);
    const after = await tab.evaluate(drawn);
    await tab.close();
    return { before, after };
  };
  const kept = await opened({});
  holds(kept.before[2] > 0 && kept.before[0].length > 100, `nothing is shown at once: ${JSON.stringify(kept.before)}`);
  same(kept.before, kept.after, 'what was shown at once is not what is found');
  for (const [spoil, told] of [
    [{ digest: 'other code' }, `${kept.after[1]}, as of 2026-10-20`],
    [{ form: 0 }, 'not looked yet'],
    [{ open: 'pieces.levare' }, 'not looked yet'],
    [{ day: '2026-10-21' }, `${kept.after[1]}, as of 2026-10-21`],
  ]) {
    const { before, after } = await opened(spoil);
    same([before[1], before[2]], [told, 0], `shown though it may be another: ${JSON.stringify(spoil)}`);
    same(after, kept.after, 'what is found');
  }
  same(context.amiss, [], 'the page complained');
  await context.close();
}

export async function kept() {
  const chrome = await browser();
  const ran = [];
  for (const check of [writtenBack, dropped, warned, remembered]) {
    await check(chrome);
    ran.push(check.name);
  }
  await chrome.close();
  return ran.join(', ');
}

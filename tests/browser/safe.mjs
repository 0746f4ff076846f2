// Nothing typed becomes markup, nothing is lost, nothing leaves: hostile cards, reloads, other tabs, odd files.

import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { unzipSync, zipSync } from 'fflate';
import { behind, browser, give, holds, open, patience, pick, same, settled, shots, text, visit, visitor } from './steps.mjs';

const HURT = '<img src=x onerror=hurt()><script>hurt()</script><svg onload=hurt()></svg>';
const HOSTILE = `ensemble "${HURT}"
  players
    flute           4
  percussionists  P1, <b>P2</b>, ${HURT}
piece "${HURT}"
  by              [click](javascript:hurt()) ![x](x) <a href="javascript:hurt()">a</a>
  grade           \`\`\`${HURT}
  style           march${HURT}
  key signature   2 flatz <iframe srcdoc="<script>parent.hurt()</script>">
  measures        40
  percussion
    snare           1-40
    ${HURT}  1-40
  notes           javascript:hurt() https://example.org/"><script>hurt()</script>
concert "\${hurt()} {{hurt()}} ${HURT}"
  on              2027-01-05
  program
    "${HURT}"
    "another ${HURT}"
`;

/** Elements of the page that no part of it makes. */
const strange = () => {
  const odd = [];
  const look = (doc) => {
    for (const one of doc.querySelectorAll('b, svg, object, embed, iframe, base, meta, form, a, img, script, *')) {
      const name = one.tagName.toLowerCase();
      const attributes = [...one.attributes].filter(({ name: at, value }) => at.startsWith('on') || /^\s*javascript:/i.test(value));
      const isOdd = attributes.length
        || (name === 'script' && doc !== document) || (doc === document && ['b', 'object', 'embed', 'base'].includes(name))
        || (name === 'img' && !one.src.startsWith('data:image/svg+xml;base64,')) || (name === 'iframe' && one.id !== 'sheet');
      if (isOdd) odd.push(one.outerHTML.slice(0, 200));
    }
  };
  look(document);
  const sheet = document.getElementById('sheet').contentDocument;
  if (sheet) look(sheet);
  if (document.querySelectorAll('script').length !== 3) odd.push('another script');
  return odd;
};

async function hostile(chrome) {
  const context = await visitor(chrome);
  const tab = await visit(context);
  await tab.evaluate(() => (window.hurt = () => (window.hit = true)));
  await give(tab, 'hostile', { 'hostile.levare': HOSTILE, [`odd${String.fromCharCode(39)}&amp;.levare`]: HOSTILE });
  const clean = async (where) => {
    same(await tab.evaluate(strange), [], `markup came of what was typed: ${where}`);
    holds(!(await tab.evaluate(() => window.hit)), `what was typed ran: ${where}`);
  };
  await clean('opened');
  const lines = HOSTILE.split('\n').length;
  await tab.evaluate(() => window.levare.show('hostile.levare', [0, 0]));
  for (let line = 0; line < lines; line += 1) {
    await tab.evaluate((line) => {
      const { view } = window.levare;
      view.dispatch({ selection: { anchor: view.state.doc.line(line + 1).from + 20 < view.state.doc.line(line + 1).to ? view.state.doc.line(line + 1).from + 20 : view.state.doc.line(line + 1).to } });
      view.focus();
    }, line);
    await tab.keyboard.press('Control+Space');
    await tab.waitForTimeout(60);
    await tab.keyboard.press('Escape');
    await tab.keyboard.press('F8');
    await tab.keyboard.press('Control+.');
    await tab.waitForSelector('dialog');
    await clean(`line ${line + 1}`);
    await tab.keyboard.press('Escape');
  }
  for (const which of ['choose', 'teach', 'buy', 'library', 'season', 'seating', 'counting', 'door']) {
    await tab.evaluate(() => window.levare.show('hostile.levare'));
    await behind(tab, 'concert "');
    await tab.check(`[name=which][value=${which}]`);
    await tab.waitForTimeout(600);
    await clean(which);
    await behind(tab, 'ensemble "');
    await tab.waitForTimeout(300);
    await clean(`${which} of a band`);
  }
  for (const at of await tab.locator('.cm-line .is-field').all()) {
    await at.hover();
    await tab.waitForTimeout(350);
    await clean('hover');
  }
  // Typed as well as opened.
  await tab.evaluate(() => window.levare.view.focus());
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type(`\npiece "x${HURT}"\nby ${HURT}\nsee <b>hurt</b>`);
  await settled(tab);
  await clean('typed');
  await tab.keyboard.press('Control+k');
  await tab.keyboard.type('img');
  await tab.waitForSelector('dialog .choices .item');
  await clean('found');
  await tab.screenshot({ path: path.join(shots, 'hostile.png') });
  // A planted element is seen.
  await tab.evaluate(() => document.querySelector('#told').insertAdjacentHTML('beforeend', '<b>x</b>'));
  holds((await tab.evaluate(strange)).length === 1, 'a planted element is not seen');
  const complaints = context.amiss.filter((one) => !/srcdoc|sandbox/i.test(one));
  same(complaints, [], 'the page complained');
  const away = context.asked.filter((url) => !/^(file|blob|data|about):/.test(url));
  same(away, [], 'the page asked for something');
  await context.close();
}

/** The rules of the page forbid what a test tries in earnest. */
async function sealed(chrome) {
  // Somebody who would hear of a connection.
  const heard = [];
  const server = http.createServer((request, answer) => {
    heard.push(request.url);
    answer.writeHead(200, { 'access-control-allow-origin': '*' }).end();
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  const address = `http://127.0.0.1:${server.address().port}`;
  const context = await visitor(chrome, { offline: false });
  const tab = await visit(context);
  await tab.waitForSelector('dialog');
  const tried = await tab.evaluate(async (address) => {
    const went = [];
    await fetch(`${address}/fetched`).then(() => went.push('fetch'), () => {});
    // What a driver evaluates itself is let through; what runs later is the page's own.
    await new Promise((done) => setTimeout(() => {
      try {
        new Function('window.built = 1')();
        went.push('new Function');
      } catch {
        // Forbidden, as it should be.
      }
      done();
    }));
    const script = document.createElement('script');
    script.textContent = 'window.made = 1';
    document.body.append(script);
    if (window.made) went.push('a script');
    const image = new Image();
    image.src = `${address}/image.png`;
    await new Promise((done) => setTimeout(done, 200));
    return went;
  }, address);
  same(tried, [], 'the page could do what its rules forbid');
  same(heard, [], 'a connection was made');
  // That the server would have heard it is tried too.
  await fetch(`${address}/planted`);
  same(heard, ['/planted'], 'a planted connection is not heard');
  server.close();
  await context.close();
}

/** In mid-word, by the reload key and by closing the tab. */
async function reloaded(chrome) {
  const context = await visitor(chrome);
  let tab = await visit(context);
  await open(tab, 'invented year');
  await tab.evaluate(() => window.levare.show('pieces/marches.levare'));
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type('\npiece "Half a Wor');
  await tab.reload();
  await settled(tab);
  const now = await text(tab);
  holds(now.endsWith('piece "Half a Wor"') || now.endsWith('piece "Half a Wor'), `a reload in mid-word lost what was typed: ${JSON.stringify(now.slice(-40))}`);
  same(await tab.evaluate(() => window.levare.open), 'pieces/marches.levare', 'another file is open after the reload');
  await tab.keyboard.type('d');
  await tab.waitForTimeout(30);
  await tab.close({ runBeforeUnload: true });
  tab = await visit(context);
  await settled(tab);
  holds((await text(tab)).includes('Half a Word'), 'a closed tab lost a letter');
  same(await tab.evaluate(() => window.levare.catalog.day), '2026-10-20', 'the invented year is read on its own day');

  // A second tab of the same catalogue is told, and cannot write.
  const second = await visit(context);
  await settled(second);
  holds(/another tab/.test(await second.textContent('#notice')), 'the second tab is not told');
  await second.evaluate(() => window.levare.view.focus());
  await second.keyboard.type('zzz');
  await second.waitForTimeout(400);
  holds(!(await text(second)).includes('zzz'), 'the second tab wrote');
  await second.close();
  holds(!(await text(tab)).includes('zzz'), 'the first tab took it');

  // Another catalogue leaves this one where it is.
  await tab.click('[data-do=catalogs]');
  await open(tab, 'Start with nothing');
  await tab.click('[data-do=catalogs]');
  await open(tab, 'Go on with "An invented year"');
  holds((await tab.evaluate(() => window.levare.text('pieces/marches.levare'))).includes('Half a Word'), 'the first catalogue is gone');

  // The catalogue's worker falls; the page goes on with what stands in the text.
  context.amiss.length = 0;
  await tab.evaluate(() => window.levare.room.fall('for a test'));
  await tab.keyboard.press('Control+End');
  await tab.keyboard.type('s');
  await settled(tab);
  const answer = await tab.evaluate(() => window.levare.room.ask({ ask: 'text', file: window.levare.open }));
  same(answer.text, await text(tab), 'after a stumble both sides hold another text');
  context.amiss = context.amiss.filter((one) => !one.includes('for a test'));
  same(context.amiss, [], 'the page complained');
  await context.close();
}

/** Files go in and come out the same, to the byte; what was changed changes there alone. */
async function roundTrip(chrome) {
  const context = await visitor(chrome);
  const tab = await visit(context);
  const odd = {
    'crlf.levare': 'piece "One"\r\n  measures        12\r\n\r\npiece "Two"\r\n  measures        14',
    'mark.levare': '\uFEFFpiece "Three"\n  measures        12\n',
    'mixed.levare': 'piece "Four"\r\n  measures        12\n  meter           4/4\r\n\n',
    'empty.levare': '',
    'deep/inside/tabs.levare': 'piece "Fünf 𝄞"\n\tmeasures\t12\n',
  };
  await give(tab, 'odd', odd);
  const unzipped = async () => {
    const download = tab.waitForEvent('download');
    await tab.click('[data-do=more]');
    await pick(tab, '.zip');
    const file = await (await download).path();
    const entries = unzipSync(new Uint8Array(fs.readFileSync(file)));
    return Object.fromEntries(Object.entries(entries).map(([name, bytes]) => [name, new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes)]));
  };
  const wanted = (files) => Object.fromEntries(Object.entries(files).map(([name, text]) => [`odd/${name}`, text]));
  const plain = (files) => Object.fromEntries(Object.entries(files).sort());
  // Each is looked at, which must not change it.
  for (const name of Object.keys(odd)) await tab.evaluate((name) => window.levare.show(name), name);
  same(plain(await unzipped()), plain(wanted(odd)), 'what was only opened changed');
  for (const [name, words] of [['crlf.levare', 'measures        14'], ['mark.levare', 'measures        12'], ['mixed.levare', 'meter           4/4']]) {
    await tab.evaluate((name) => window.levare.show(name), name);
    await behind(tab, words);
    await tab.keyboard.press('Enter');
    await tab.keyboard.type('grade 2', { delay: 10 });
  }
  await settled(tab);
  const changed = await unzipped();
  const line = '  grade           2';
  const loose = (text) => text.replace(/ {2,}grade +2/, line).replace(/grade 2/, 'grade           2');
  same(loose(changed['odd/crlf.levare']), `${odd['crlf.levare']}\r\n${line}`, 'a file with \\r\\n');
  same(loose(changed['odd/mark.levare']), odd['mark.levare'].replace('12\n', `12\n${line}\n`), 'a file with a mark in front');
  same(changed['odd/empty.levare'], '', 'an empty file');
  holds(changed['odd/mixed.levare'].startsWith('piece "Four"\r\n  measures        12\n  meter           4/4'), 'line ends that were not touched changed');
  // And back in, as one .zip.
  const bytes = path.join(shots, 'again.zip');
  const download = tab.waitForEvent('download');
  await tab.click('[data-do=save]');
  await (await download).saveAs(bytes);
  // Another program packs it again, and makes it small.
  fs.writeFileSync(bytes, zipSync(unzipSync(new Uint8Array(fs.readFileSync(bytes))), { level: 9 }));
  await tab.click('[data-do=catalogs]');
  const chooser = tab.waitForEvent('filechooser');
  await pick(tab, 'files or a .zip');
  await (await chooser).setFiles(bytes);
  await tab.waitForFunction(() => window.levare.catalog.files.length === 5 && !document.querySelector('dialog'));
  await settled(tab);
  const again = await tab.evaluate(() => window.levare.texts());
  same(plain(Object.fromEntries(again.map(({ file, text }) => [`odd/${file}`, text]))), plain(changed), 'the .zip came back as something else');
  // Files that are none.
  await tab.click('[data-do=catalogs]');
  const other = tab.waitForEvent('filechooser');
  await pick(tab, 'files or a .zip');
  await (await other).setFiles([{ name: 'bad.levare', mimeType: 'text/plain', buffer: Buffer.from([0x70, 0xff, 0xfe, 0x41]) }]);
  await tab.waitForFunction(() => /UTF-8/.test(document.getElementById('notice').textContent), null, { timeout: patience });
  same(context.amiss, [], 'the page complained');
  await context.close();
}

export async function safe() {
  const chrome = await browser();
  const ran = [];
  for (const check of [sealed, reloaded, roundTrip, hostile]) {
    await check(chrome);
    ran.push(check.name);
  }
  await chrome.close();
  return ran.join(', ');
}

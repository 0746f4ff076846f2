// node bundle.mjs WASM OUT
//
// Puts the page together: one file with its style, its script, the worker and the catalogue's code inside, so that a
// double click is enough. The page's rules allow its two scripts and no connection at all.

import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { packMixed } from './src/mixed.js';
import { NAMES, join, split } from './src/streams.js';
import { MIXED, unpack } from './src/unpack.js';

const [wasm, out] = process.argv.slice(2);
const here = path.dirname(fileURLToPath(import.meta.url));
const source = (name) => path.join(here, 'src', name);
const code = smaller(wasm);
const { streams, before, pairs } = split(code);
// The other way to pack takes longer to unpack, and only here is it worth that: see DEVELOPERS.md.
const MAIN = NAMES.indexOf('what');
const packed = streams.map((one, n) => (n === MAIN ? Buffer.concat([Buffer.from([MIXED]), packMixed(one)]) : pack(one)));
// What the page will do with it, done here once.
const again = join({ streams: packed.map((one, n) => unpack(one, streams[n].length)), before, pairs }, code.length);
if (Buffer.compare(Buffer.from(again), Buffer.from(code)) !== 0) throw new Error('the code does not come out as it went in');
const inputs = new Set();

/** The code without what says the same twice, for the browsers that it was built for: no newer instructions come in. */
function smaller(wasm) {
  const made = `${wasm}.small`;
  const tool = path.join(here, 'node_modules/binaryen/bin/wasm-opt');
  if (!fs.existsSync(made) || fs.statSync(made).mtimeMs < fs.statSync(wasm).mtimeMs) {
    const ran = spawnSync(process.execPath, [tool, '-Oz', '--converge', '--merge-similar-functions', '-Oz', '--reorder-functions', '--reorder-locals', wasm, '-o', made], { encoding: 'utf8' });
    if (ran.status !== 0) throw new Error(`the code could not be made smaller: ${ran.stderr}`);
  }
  return fs.readFileSync(made);
}

/** Packs what `src/unpack.js` unpacks, in the best of ten ways. Node has no packer of this kind, and Python has. */
function pack(bytes) {
  const program = [
    'import lzma, sys',
    'given = sys.stdin.buffer.read()',
    'def packed(lc, pb):',
    '    how = {"id": lzma.FILTER_LZMA1, "preset": 9 | lzma.PRESET_EXTREME, "lc": lc, "lp": 0, "pb": pb, "nice_len": 273, "dict_size": 1 << 23}',
    '    return lzma.compress(given, format=lzma.FORMAT_ALONE, filters=[how])',
    'sys.stdout.buffer.write(min((packed(lc, pb) for lc in range(5) for pb in range(2)), key=len))',
  ].join('\n');
  const ran = spawnSync('python3', ['-c', program], { input: bytes, maxBuffer: 1 << 28 });
  if (ran.status !== 0) throw new Error(`the code could not be packed: ${ran.stderr}`);
  // How large it is and how far back it looks is known without the rest of the header.
  return Buffer.concat([ran.stdout.subarray(0, 1), ran.stdout.subarray(13)]);
}

async function bundled(entry, plugins, format) {
  const made = await build({
    entryPoints: [source(entry)],
    bundle: true,
    minify: true,
    write: false,
    metafile: true,
    format,
    target: ['chrome103', 'firefox113', 'safari16.4'],
    charset: 'utf8',
    legalComments: 'none',
    plugins,
    logLevel: 'warning',
  });
  Object.keys(made.metafile.inputs).forEach((input) => inputs.add(input));
  return made.outputFiles[0].text;
}

/** A name that stands for something made here. */
const given = (name, contents, loader) => ({
  name,
  setup(made) {
    made.onResolve({ filter: new RegExp(`^${name}$`) }, () => ({ path: name, namespace: name }));
    made.onLoad({ filter: /.*/, namespace: name }, () => ({ contents, loader }));
  },
});

const digest = createHash('sha256').update(code).digest('hex');
const catalog = `export const digest = '${digest}'; export const size = ${code.length}; export const before = ${before}; export const pairs = ${JSON.stringify(pairs)}; export const parts = ${JSON.stringify(packed.map((one, n) => [one.length, streams[n].length]))};`;
const worker = await bundled('worker.js', [given('levare.wasm', catalog, 'js')], 'iife');
const early = await bundled('early.js', [given('worker-source', worker, 'text'), given('levare.wasm', catalog, 'js')], 'iife');
const script = await bundled('main.js', [given('levare.wasm', catalog, 'js')], 'iife');
const style = fs.readFileSync(source('page.css'), 'utf8').replace(/^\s+/gm, '');

/** The licenses of what is inside travel with it. */
function notices() {
  const folders = new Set();
  for (const input of inputs) {
    const found = /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input);
    if (found) folders.add(found[0]);
  }
  if (!folders.size) throw new Error('nothing was bundled, which cannot be');
  const all = [...folders].sort().map((folder) => {
    const { name, version } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
    const license = fs.readdirSync(folder).find((file) => /^licen[cs]e/i.test(file));
    if (!license) throw new Error(`${name} carries no license`);
    return `${name} ${version}\n\n${fs.readFileSync(path.join(folder, license), 'utf8').trim()}\n`;
  });
  return all.join(`\n${'-'.repeat(72)}\n\n`);
}

const inline = (script) => script.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
const hash = (script) => `'sha256-${createHash('sha256').update(inline(script)).digest('base64')}'`;
const rules = [
  "default-src 'none'",
  `script-src ${hash(early)} ${hash(script)} 'wasm-unsafe-eval'`,
  'worker-src blob:',
  // The editor sets its style as it goes.
  "style-src 'unsafe-inline'",
  'img-src data:',
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');
// Functions, because a `$` in what is put in would be read as a sign.
const page = fs.readFileSync(source('page.html'), 'utf8')
  .replace('{{rules}}', () => rules)
  .replace('{{style}}', () => style)
  .replace('{{early}}', () => inline(early))
  .replace('{{script}}', () => inline(script))
  // Nothing that runs, and read only at a first visit: so it stands at the end, where nothing waits for it.
  .replace('{{code}}', () => Buffer.concat(packed).toString('base64'));

fs.mkdirSync(out, { recursive: true });
fs.writeFileSync(path.join(out, 'levare.html'), page);
fs.writeFileSync(path.join(out, 'THIRD-PARTY.txt'), notices());
fs.copyFileSync(path.join(here, 'Put this on a server.txt'), path.join(out, 'Put this on a server.txt'));
const size = gzipSync(page, { level: 9 }).length;
console.error(`levare.html: ${(page.length / 1e6).toFixed(2)} MB, ${(size / 1e6).toFixed(3)} MB compressed`);
// A megabyte: what grows beyond it was not looked at.
const MOST = 1 << 20;
if (size > MOST) throw new Error(`the page is larger than 1 MB (${MOST} bytes) compressed: ${size}`);

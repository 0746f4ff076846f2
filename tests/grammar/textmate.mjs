// The coloring grammar, ready to color lines.

import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const require = createRequire(import.meta.url);
export const textmate = require('vscode-textmate');
const oniguruma = require('vscode-oniguruma');

const here = path.dirname(fileURLToPath(import.meta.url));
const file = process.env.LEVARE_COLORS ?? path.join(here, '../../grammar/levare.tmLanguage.json');

export async function grammar() {
  const wasm = fs.readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm'));
  await oniguruma.loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async (scope) =>
      scope === 'source.levare' ? textmate.parseRawGrammar(fs.readFileSync(file, 'utf8'), file) : null,
  });
  return registry.loadGrammar('source.levare');
}

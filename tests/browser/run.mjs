// node run.mjs [CHECK...]
//
// Drives the page in Chromium: first, same, safe, reached, fast; all of them when none is named.

import { fast } from './fast.mjs';
import { first } from './first.mjs';
import { reached } from './reached.mjs';
import { safe } from './safe.mjs';
import { sames } from './same.mjs';

const checks = { first, same: sames, safe, reached, fast };
const asked = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(checks);
for (const name of asked) {
  if (!checks[name]) throw new Error(`There is no check ${name}.`);
  const began = Date.now();
  console.log(`${name}: ${await checks[name]()} (${((Date.now() - began) / 1000).toFixed(0)} s)`);
}

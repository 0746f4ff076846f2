// node run.mjs [CHECK...]
//
// Drives the page in Chromium: first, same, safe, kept, reached, fast; all of them when none is named.

import { fast } from './fast.mjs';
import { first } from './first.mjs';
import { kept } from './kept.mjs';
import { reached } from './reached.mjs';
import { safe } from './safe.mjs';
import { amiss } from './steps.mjs';
import { sames } from './same.mjs';

const checks = { first, same: sames, safe, kept, reached, fast };
const asked = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(checks);
for (const name of asked) {
  if (!checks[name]) throw new Error(`There is no check ${name}.`);
  const began = Date.now();
  try {
    console.log(`${name}: ${await checks[name]()} (${((Date.now() - began) / 1000).toFixed(0)} s)`);
  } catch (error) {
    console.error(`${name}: ${error.stack}`);
    for (const said of amiss.flat()) console.error(`  the page: ${said}`);
    process.exit(1);
  }
}

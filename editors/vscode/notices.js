// Gathers the licenses of the packages that were bundled into dist/extension.js, so that they
// travel with it. Fails when one of them has none.

const fs = require('node:fs');
const path = require('node:path');

const inputs = Object.keys(JSON.parse(fs.readFileSync('dist/inputs.json', 'utf8')).inputs);
const folders = new Set();
for (const input of inputs) {
  const found = /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input);
  if (found) folders.add(found[0]);
}
if (folders.size === 0) throw new Error('nothing was bundled, which cannot be');

const notices = [...folders].sort().map((folder) => {
  const { name, version } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const license = fs.readdirSync(folder).find((file) => /^licen[cs]e/i.test(file));
  if (!license) throw new Error(`${name} carries no license`);
  return `${name} ${version}\n\n${fs.readFileSync(path.join(folder, license), 'utf8').trim()}\n`;
});
fs.writeFileSync('dist/THIRD-PARTY.txt', notices.join(`\n${'-'.repeat(72)}\n\n`));
fs.rmSync('dist/inputs.json');

// What begins before the page itself is read: the catalogue's worker gets its code ready, and what was kept of the last
// visit is fetched. What was found then is seen before the editor is there, if the texts are still the same.

import * as kept from './kept.js';
import * as lists from './lists.js';
import source from 'worker-source';

function worker() {
  return new Worker(URL.createObjectURL(new Blob([source], { type: 'text/javascript' })));
}

const first = worker();
const heard = [];
first.onmessage = ({ data }) => heard.push(data);

const last = kept.last().catch(() => null);
const parsed = new Promise((done) => document.addEventListener('DOMContentLoaded', done, { once: true }));
/** A page that nobody looks at is never painted, and begins all the same. */
const painted = () => new Promise((done) => {
  requestAnimationFrame(() => setTimeout(done));
  setTimeout(done, 100);
});

/** Where somebody chooses a finding before the editor is there, it is shown as soon as it is. */
function show(file, at) {
  if (window.levare?.open) window.levare.show(file, at.slice(0, 2));
  else setTimeout(show, 20, file, at);
}

async function begin() {
  const [catalog] = await Promise.all([last, parsed]);
  if (catalog && kept.same(catalog.told, catalog)) {
    lists.findings(catalog.told.files, show);
    // A day later something may be due, and a newer page may find more; until it has been looked again, the list says
    // of which day it is.
    if (!kept.still(catalog.told, catalog)) lists.said(`as of ${catalog.told.day}`);
    await painted();
  }
  const page = document.createElement('script');
  page.textContent = document.getElementById('page').textContent;
  document.body.append(page);
  page.remove();
}
begin();

/** The first worker with what it has said so far, and how another is made; the catalogue of the last visit; the lists. */
window.early = { first, heard, worker, last, lists };

// What begins before the page itself is read: the catalogue's worker gets its code ready, and what was kept of the last
// visit is fetched, while the browser reads the editor.

import * as kept from './kept.js';
import source from 'worker-source';

function worker() {
  return new Worker(URL.createObjectURL(new Blob([source], { type: 'text/javascript' })));
}

const first = worker();
const heard = [];
first.onmessage = ({ data }) => heard.push(data);

/** The first worker with what it has said so far, and how another is made; the catalogues of earlier visits. */
window.early = { first, heard, worker, kept: kept.all().catch(() => []) };

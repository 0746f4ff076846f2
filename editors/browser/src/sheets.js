// The pages beside the text: who plays what, the setup, counted rests, a card a player, of the card under the cursor; which pieces to
// choose, what to teach and to buy, the library, a season.

import { place } from './places.js';
import { savePage } from './disk.js';

/** What is a page of its own; everything else is an answer. */
const PAGES = ['door', 'seating', 'counting'];
/** What conditions and a sum of money can be given along with. */
const LIMITED = { 'only-those': ['choose', 'season'], 'at-most': ['choose', 'buy', 'season'] };

const byId = (id) => document.getElementById(id);

export class Sheets {
  constructor(levare) {
    this.levare = levare;
    this.html = '';
    this.name = 'page';
    for (const button of document.querySelectorAll('[name=which]')) button.addEventListener('change', () => this.look());
    for (const id of ['size', 'only', 'most']) byId(id).addEventListener('change', () => this.look());
    byId('sheet').addEventListener('load', () => this.fit());
    new ResizeObserver(() => this.fit()).observe(byId('sheet'));
    byId('print').addEventListener('click', () => this.print());
    byId('keep-page').addEventListener('click', () => this.html && savePage(`${this.which()}.html`, this.html));
  }

  which() {
    return document.querySelector('[name=which]:checked').value;
  }

  /** Draws the page anew, if it is shown. One look at a time: a concert's plan may take a moment. */
  async look() {
    if (byId('beside').hidden) return;
    for (const [id, those] of Object.entries(LIMITED)) byId(id).hidden = !those.includes(this.which());
    if (this.looking) {
      this.again = true;
      return;
    }
    this.looking = true;
    try {
      do {
        this.again = false;
        const { view } = this.levare;
        const answer = await this.levare.asked({
          ask: PAGES.includes(this.which()) ? 'sheet' : 'answer',
          at: place(view.state.doc, view.state.selection.main.head),
          which: this.which(),
          size: byId('size').value,
          words: byId('only').value,
          budget: byId('most').value,
        });
        if (answer) this.show(answer);
      } while (this.again);
    } finally {
      this.looking = false;
    }
  }

  show({ html, amiss, write }) {
    // What follows from an answer.
    const button = byId('write-it');
    button.hidden = !write || this.levare.readOnly;
    button.textContent = write?.title ?? '';
    const { version } = this.levare;
    button.onclick = () => {
      // The edits are of the text that was asked about.
      if (version !== this.levare.version) return this.look();
      this.levare.make(write.files);
      // Shown, so that it is seen, and taken back by Ctrl+Z.
      this.levare.show(write.files[0].file);
      this.levare.say(`Written into ${write.files.map(({ file }) => `"${file}"`).join(', ')}.`);
      return undefined;
    };
    byId('why-not').textContent = amiss ?? '';
    byId('why-not').hidden = !amiss;
    byId('sheet').hidden = Boolean(amiss);
    byId('print').disabled = byId('keep-page').disabled = Boolean(amiss);
    if (!html || html === this.html) return;
    this.html = html;
    // No script runs in it, whatever a card holds, and nothing in it reaches out.
    byId('sheet').srcdoc = html;
  }

  /** As wide as there is room for; on paper it stays as large as it is. */
  fit() {
    const { contentDocument: paper, clientWidth: wide } = byId('sheet');
    if (!paper?.head || !wide) return;
    let style = paper.getElementById('fit');
    if (!style) {
      style = paper.createElement('style');
      style.id = 'fit';
      style.media = 'screen';
      paper.head.append(style);
    }
    style.textContent = '';
    style.textContent = `html { zoom: ${Math.min(1, wide / paper.documentElement.scrollWidth).toFixed(3)} }`;
  }

  print() {
    const frame = byId('sheet');
    if (!this.html || frame.hidden) return;
    frame.contentWindow.focus();
    frame.contentWindow.print();
  }
}

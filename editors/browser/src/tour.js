// The first five minutes, in five steps beside the text. Each step is done by doing it, or passed over.

import { element } from './words.js';

/** The lines of the score that the director types; the piece and the band are in the catalogue to fill in. */
export const LINES = [
  'xylophone       25-56',
  'crash cymbals   9-24, 41-80',
  'tom-toms        1-24, 41-64',
  'triangle        41-56, 65-72',
  'tambourine      41-56',
];

const STEPS = [
  {
    title: 'This is a catalog',
    says: 'Each piece has a card in plain words, and so has each band. You are looking at a piece called "Drum Hill". Click at the end of its last line, after "bass drum 1-80".',
    done: ({ text, at }) => text.slice(0, at).trimEnd().endsWith('1-80') && /bass drum\s+1-80\s*$/.test(text.slice(0, at)),
    cursor: true,
  },
  {
    title: 'Type five lines',
    says: 'The score has five more lines of percussion. Press Enter and type them, each on a line of its own. You do not need to line anything up.',
    lines: true,
    done: ({ text }) => LINES.every((line) => text.includes(line.split(/\s{2,}/)[0] + ' ') && text.includes(line.split(/\s{2,}/)[1])),
  },
  {
    title: 'Read what was found',
    says: 'Your band is one player short, and Levare says where. Press F8, or rest the mouse on the words with a line under them. The same finding is in the list below the text.',
    done: ({ seen }) => seen,
    ask: (levare) => levare.command('next'),
    button: 'Go to the finding',
  },
  {
    title: 'Print the page for the door',
    says: 'The page beside the text shows who plays what, and it changes as you type. "Print" puts it on paper.',
    done: ({ printed }) => printed,
    ask: (levare) => levare.do.showBeside(),
    button: 'Show the page',
  },
  {
    title: 'Make it yours',
    says: 'Open the file "band" on the left and write your own numbers over ours. Everything stays on this computer. "Save" writes your catalog as one file that you can carry and open again.',
    done: () => false,
  },
];

export class Tour {
  constructor(levare) {
    this.levare = levare;
    this.step = -1;
    this.did = { seen: false, printed: false };
    document.getElementById('print').addEventListener('click', () => this.note('printed'));
  }

  begin() {
    this.did = { seen: false, printed: false };
    this.go(0);
  }

  go(step) {
    this.step = step in STEPS ? step : -1;
    this.draw();
  }

  note(what) {
    if (this.step < 0) return;
    this.did[what] = true;
    this.look();
  }

  /** Whether the step at hand has been done. */
  look() {
    const step = STEPS[this.step];
    if (!step) return;
    const { state } = this.levare.view;
    const done = step.done({ text: state.doc.toString(), at: state.selection.main.head, ...this.did });
    if (done) this.go(this.step + 1);
  }

  draw() {
    const panel = document.getElementById('tour');
    const step = STEPS[this.step];
    panel.hidden = !step;
    if (!step) return;
    const last = this.step === STEPS.length - 1;
    panel.replaceChildren(
      element('h2', {}, `${this.step + 1} of ${STEPS.length}: ${step.title}`),
      element('p', {}, step.says),
      step.lines ? element('pre', { tabindex: 0, 'aria-label': 'The five lines to type' }, LINES.join('\n')) : '',
      element(
        'div',
        { class: 'buttons' },
        step.ask ? element('button', { type: 'button', class: 'main', onclick: () => step.ask(this.levare) }, step.button) : null,
        element('button', { type: 'button', class: step.ask ? null : 'main', onclick: () => this.go(this.step + 1) }, last ? 'Done' : 'Next'),
        last ? null : element('button', { type: 'button', onclick: () => this.go(STEPS.length) }, 'End the tour'),
      ),
    );
  }
}

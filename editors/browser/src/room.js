// The way to the catalogue: questions go to the worker and come back answered, in their order.

/** After so many stumbles in a row the catalogue is left alone, and the text can still be saved. */
const MOST = 3;

export class Room {
  /** `again` is called after a stumble; it has to give the new catalogue all its files. `given up` at last. */
  constructor(again, givenUp) {
    this.again = again;
    this.givenUp = givenUp;
    this.waiting = new Map();
    this.next = 0;
    this.stumbles = 0;
    this.start();
  }

  start() {
    const { early } = window;
    this.worker = early.first ?? early.worker();
    early.first = null;
    this.worker.onmessage = ({ data }) => this.heard(data);
    this.worker.onerror = (event) => this.fall(event.message);
    early.heard.splice(0).forEach((data) => this.heard(data));
  }

  heard({ id, answer, stumbled, needs }) {
    if (needs) return this.give();
    if (stumbled !== undefined) return this.fall(stumbled);
    this.stumbles = 0;
    this.waiting.get(id)?.(answer);
    this.waiting.delete(id);
  }

  /** Gives the worker the packed code, which stands at the end of the page. */
  async give() {
    const { worker } = this;
    if (document.readyState === 'loading') await new Promise((done) => document.addEventListener('DOMContentLoaded', done, { once: true }));
    worker.postMessage({ packed: document.getElementById('code').textContent });
  }

  /** Whoever waits is told that there is no answer. */
  fall(why) {
    console.warn('Levare stumbled:', why);
    this.worker.terminate();
    for (const done of this.waiting.values()) done(null);
    this.waiting.clear();
    this.stumbles += 1;
    if (this.stumbles > MOST) {
      this.worker = null;
      this.givenUp();
      return;
    }
    this.start();
    this.again();
  }

  /** The answer; null where there is none. What is amiss is in `amiss`. */
  ask(ask) {
    if (!this.worker) return Promise.resolve(null);
    const id = this.next++;
    return new Promise((done) => {
      this.waiting.set(id, done);
      this.worker.postMessage({ id, ask });
    });
  }
}

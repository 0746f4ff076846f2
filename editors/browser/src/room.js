// The way to the catalogue: questions go to the worker and come back answered, in their order.

import source from 'worker-source';

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
    const address = URL.createObjectURL(new Blob([source], { type: 'text/javascript' }));
    this.worker = new Worker(address);
    this.worker.onmessage = ({ data }) => this.heard(data);
    this.worker.onerror = (event) => this.fall(event.message);
  }

  heard({ id, answer, stumbled }) {
    if (stumbled !== undefined) return this.fall(stumbled);
    this.stumbles = 0;
    this.waiting.get(id)?.(answer);
    this.waiting.delete(id);
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

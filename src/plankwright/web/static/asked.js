/** An answer of the server that belongs to the document as it is now. */

import { RefusedError, call } from './net.js';
import { follow } from './progress.js';

export class Asked {
  /**
   * @param {import('./bench.js').Bench} bench
   * @param {string} path
   */
  constructor(bench, path) {
    this.bench = bench;
    /** @type {any} */
    this.value = null;
    /** @type {any} */
    this.refusal = null;
    this.asked = '';
    this.waiting = false;
    /** How far it is, while it is worked out. */
    this.told = '';
    this.path = path;
    /** @type {() => void} */
    this.leave = () => {};
  }

  /** Ask, unless the answer is there already. @param {string} [also] what else it depends on */
  async want(also = '') {
    const now = JSON.stringify(this.bench.job.document) + also;
    if (now === this.asked) return;
    this.asked = now;
    this.leave();
    this.waiting = true;
    this.told = '';
    try {
      const work = await call('POST', this.path, { document: this.bench.job.document });
      if (now !== this.asked) return void call('DELETE', `/api/work/${work.id}`);
      const unfollow = follow(work.id, {
        told: (shown) => this.hear(shown.told),
        done: (value) => this.take(value, null),
        failed: (refusal) => this.take(null, refusal),
      });
      this.leave = () => {
        unfollow();
        if (this.waiting) call('DELETE', `/api/work/${work.id}`).catch(() => {});
      };
    } catch (error) {
      if (now === this.asked) this.take(null, error instanceof RefusedError ? error.refusal : null);
    }
  }

  /** The answer, if it belongs to the document as it is now. */
  get fresh() {
    const fits = this.asked.startsWith(JSON.stringify(this.bench.job.document));
    return fits && !this.waiting && !this.refusal ? this.value : null;
  }

  /** @param {string} told */
  hear(told) {
    if (told === this.told) return;
    this.told = told;
    this.bench.fillColumn();
  }

  /** @param {any} value @param {any} refusal */
  take(value, refusal) {
    this.waiting = false;
    this.value = value ?? this.value;
    this.refusal = refusal;
    this.bench.draw();
    this.bench.fillColumn();
  }
}

/**
 * The answer of a bench for a path, made once.
 * @param {import('./bench.js').Bench} bench
 * @param {string} path
 * @returns {Asked}
 */
export function asked(bench, path) {
  return (bench.kept[path] ??= new Asked(bench, path));
}

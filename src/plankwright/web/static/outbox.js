/** The outbox: what was written down waits here until the server has it, each once, in order. */

import { AwayError, RefusedError, call } from './net.js';
import { keep, kept } from './pocket.js';

/** @typedef {{id: string, order: number, device: string, at: string, kind: string} & Record<string, any>} LayingEvent */

const AGAIN_MS = 1500;
const MOST_AT_ONCE = 500;

export class Outbox extends EventTarget {
  /** @param {string} jobId */
  constructor(jobId) {
    super();
    this.jobId = jobId;
    this.key = `outbox:${jobId}`;
    /** @type {LayingEvent[]} */
    this.waiting = [];
    this.sending = false;
    this.away = false;
    this.timer = 0;
    /** @type {{message: string, remedy: string} | null} */
    this.refusal = null;
    window.addEventListener('online', () => this.deliver());
  }

  /** Take up what an earlier page left here. */
  async load() {
    this.waiting = [...((await kept(this.key)) ?? []), ...this.waiting];
    if (this.waiting.length) this.deliver();
  }

  /** @param {LayingEvent[]} events */
  async add(events) {
    this.waiting.push(...events);
    this.dispatchEvent(new Event('change'));
    await keep(this.key, this.waiting);
    this.deliver();
  }

  /** Send what waits, in its order; what the server has is taken out, the rest waits on. */
  async deliver() {
    window.clearTimeout(this.timer);
    if (this.sending || !this.waiting.length) return;
    this.sending = true;
    const events = this.waiting.slice(0, MOST_AT_ONCE);
    try {
      const stand = await call('POST', `/api/jobs/${this.jobId}/events`, { events });
      this.waiting = this.waiting.slice(events.length);
      await keep(this.key, this.waiting);
      this.away = false;
      this.refusal = null;
      this.dispatchEvent(new CustomEvent('stand', { detail: stand }));
    } catch (error) {
      this.failed(error);
    }
    this.sending = false;
    this.dispatchEvent(new Event('change'));
    if (this.waiting.length) this.timer = window.setTimeout(() => this.deliver(), this.away || this.refusal ? AGAIN_MS : 0);
  }

  /** @param {unknown} error */
  failed(error) {
    this.away = error instanceof AwayError;
    if (error instanceof RefusedError) this.refusal = error.refusal;
  }
}

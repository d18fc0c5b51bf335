/** The laying day: the plan that is laid, its cards, what has happened, and what is next. */

import { readPicture } from './drawing/picture.js';
import { AwayError, RefusedError, call } from './net.js';
import { Outbox } from './outbox.js';
import { standAfter } from './stand.js';
import { deviceName, keep, kept, randomName } from './pocket.js';

/** @typedef {import('./outbox.js').LayingEvent} LayingEvent */
/** @typedef {Record<string, any>} Card */

export class Day {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    this.id = bench.job.id;
    this.outbox = new Outbox(this.id);
    /** @type {import('./drawing/picture.js').Picture | null} */
    this.picture = null;
    /** @type {Card[]} */
    this.cards = [];
    /** @type {Record<string, string>} boards at the saw, by piece */
    this.boards = {};
    /** @type {any} the state as the server last told it */
    this.told = null;
    /** @type {LayingEvent[]} the last events as the server told them */
    this.last = [];
    /** @type {any} what is to be looked at before the next card */
    this.dueCheck = null;
    /** @type {any} what the last row will be */
    this.forecast = null;
    this.order = 1;
    this.loaded = false;
    this.outbox.addEventListener('stand', (event) => this.stand(/** @type {CustomEvent} */ (event).detail));
    this.outbox.addEventListener('change', () => this.changed());
    window.setInterval(() => this.look(), 5000);
    this.load();
  }

  get begun() {
    return this.picture !== null;
  }

  /** Load the day; with the network gone, as this device last had it. */
  async load() {
    const key = `day:${this.id}`;
    await this.outbox.load();
    try {
      const laying = await call('GET', `/api/jobs/${this.id}/laying`);
      if (!laying) return;
      this.take(laying);
      await keep(key, laying);
      this.boards = await call('GET', `/api/jobs/${this.id}/laying/pictures`);
      await keep(`boards:${this.id}`, this.boards);
    } catch (error) {
      const own = error instanceof AwayError ? await kept(key) : null;
      if (own) {
        this.boards = (await kept(`boards:${this.id}`)) ?? {};
        this.take(own);
      }
    } finally {
      this.loaded = true;
      this.changed();
    }
  }

  /** Begin to lay the plan as it is known. */
  async begin() {
    const laying = await call('POST', `/api/jobs/${this.id}/laying`);
    this.take(laying);
    await this.load();
  }

  /** @param {any} laying */
  take(laying) {
    this.picture = readPicture(laying.picture);
    this.cards = laying.cards;
    this.stand(laying);
  }

  /** @param {any} stand */
  stand(stand) {
    this.told = stand.state;
    this.last = stand.last;
    this.dueCheck = stand.check;
    this.forecast = stand.forecast;
    this.order = Math.max(this.order, stand.next_order);
    if (stand.state.revision > (this.revision ?? 0) && this.revision !== undefined) this.load();
    this.revision = stand.state.revision;
    this.changed();
  }

  /** See whether another device wrote something down. */
  async look() {
    if (this.bench.open !== 'lay' || !this.begun || this.bench.isGone || this.outbox.waiting.length) return;
    try {
      const stand = await call('GET', `/api/jobs/${this.id}/events`);
      if (stand.next_order !== this.order || stand.events !== this.events) this.stand(stand);
      this.events = stand.events;
    } catch (error) {
      if (error instanceof RefusedError) return;
      this.outbox.away = true;
      this.changed();
    }
  }

  /** How things stand with everything that still waits here. */
  get state() {
    return standAfter(this.told, this.last, this.outbox.waiting);
  }

  /** @param {Record<string, any>[]} whats kinds and values of what happened, in order */
  async write(...whats) {
    const device = deviceName();
    const events = whats.map((what) => ({
      id: `${device.slice(0, 8)}-${randomName()}`, order: this.order++, device, at: new Date().toISOString(), ...what,
    }));
    await this.outbox.add(/** @type {LayingEvent[]} */ (events));
  }

  /** The last thing that stands: neither taken back nor a taking back. @returns {LayingEvent | null} */
  get lastStanding() {
    const all = [...this.last, ...this.outbox.waiting.filter((event) => !this.last.some((known) => known.id === event.id))];
    const back = new Set(all.filter((event) => event.kind === 'undone').map((event) => event.event));
    return all.reverse().find((event) => event.kind !== 'undone' && !back.has(event.id)) ?? null;
  }

  /** The check that is due, unless it was made here and waits. */
  get check() {
    const made = this.outbox.waiting.some((event) => event.kind === 'check-made' && event.check === this.dueCheck?.name);
    return made ? null : this.dueCheck;
  }

  /** @returns {Card | null} */
  get next() {
    const { laid } = this.state;
    return this.cards.find((card) => !(card.piece in laid)) ?? null;
  }

  changed() {
    this.bench.dayChanged();
  }
}

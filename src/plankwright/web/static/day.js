/** The laying day: the plan that is laid, its cards, what has happened, and what is next. */

import { readPicture } from './drawing/picture.js';
import { fold, inOrder, takenBack } from './fold.js';
import { AwayError, RefusedError, call } from './net.js';
import { Outbox } from './outbox.js';
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
    /** @type {Map<string, LayingEvent>} what the server knows, by id */
    this.known = new Map();
    /** @type {[number, number]} length and width of a new board [mm] */
    this.boardMm = [1, 1];
    this.revision = 0;
    /** @type {{key: string, value: any}} the state, worked out once */
    this.folded = { key: '', value: null };
    /** @type {any} what is to be looked at before the next card */
    this.dueCheck = null;
    /** @type {any} what the last row will be */
    this.forecast = null;
    this.order = 1;
    this.loaded = false;
    this.outbox.addEventListener('stand', (event) => this.stand(/** @type {CustomEvent} */ (event).detail));
    this.outbox.addEventListener('change', () => this.changed());
    this.timer = window.setInterval(() => this.look(), 5000);
    this.load();
  }

  /** Another page takes the place of this one; what waits is still delivered. */
  leave() {
    window.clearInterval(this.timer);
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
    this.boardMm = laying.board_mm;
    this.revision = laying.state.revision;
    this.known = new Map(laying.all.map((/** @type {LayingEvent} */ event) => [event.id, event]));
    this.stand(laying);
  }

  /** What the server says after something was written down. @param {any} stand */
  stand(stand) {
    for (const event of stand.last) this.known.set(event.id, event);
    this.dueCheck = stand.check;
    this.forecast = stand.forecast;
    this.order = Math.max(this.order, stand.next_order);
    if (stand.events !== this.known.size || stand.state.revision !== this.revision) this.load();
    this.changed();
  }

  /** See whether another device wrote something down. */
  async look() {
    if (this.bench.open !== 'lay' || !this.begun || this.bench.isGone || this.outbox.waiting.length) return;
    try {
      const stand = await call('GET', `/api/jobs/${this.id}/events`);
      if (stand.events !== this.known.size) this.stand(stand);
    } catch (error) {
      if (error instanceof RefusedError) return;
      this.outbox.away = true;
      this.changed();
    }
  }

  /** Everything that was written down, here or elsewhere, in its order. */
  get events() {
    const waiting = this.outbox.waiting.filter((event) => !this.known.has(event.id));
    return inOrder([...this.known.values(), ...waiting]);
  }

  /** How things stand, with everything that still waits here. */
  get state() {
    const { events } = this;
    const key = `${events.length} ${events[events.length - 1]?.id ?? ''}`;
    if (this.folded.key !== key) this.folded = { key, value: fold(events, this.boardMm) };
    return this.folded.value;
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
    const { events } = this;
    const back = takenBack(events);
    return events.reverse().find((event) => event.kind !== 'undone' && !back.has(event.id)) ?? null;
  }

  /** What was taken back last, if nothing was written down since. @returns {{undo: LayingEvent, what: LayingEvent} | null} */
  get takenBackLast() {
    const { events } = this;
    const back = takenBack(events);
    const last = events.reverse().find((event) => !back.has(event.id));
    const what = last?.kind === 'undone' ? events.find((event) => event.id === last.event) : null;
    return last && what ? { undo: last, what } : null;
  }

  /** The check that is due, unless it was made here and waits. */
  get check() {
    const made = this.outbox.waiting.some((event) => event.kind === 'check-made' && event.check === this.dueCheck?.name);
    return made ? null : this.dueCheck;
  }

  /** @returns {Card | null} */
  get next() {
    const { laid } = this.state;
    return this.cards.find((card) => !laid.has(card.piece)) ?? null;
  }

  changed() {
    this.bench.dayChanged();
  }
}

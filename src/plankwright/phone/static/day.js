/** The laying day on the phone: what is next, what is written down, what can be taken back. */

import { forecastLastRow } from './drift.js';
import { fold, inOrder, takenBack } from './fold.js';

/**
 * @typedef {import('./fold.js').LayingEvent} LayingEvent
 * @typedef {import('./fold.js').State} State
 * @typedef {Record<string, any> & { kind: string }} What
 * @typedef {object} Card
 * @property {string} piece
 * @property {number} row
 * @property {string} place
 * @property {string} take
 * @property {string} figure what one has come for: how long it is cut
 * @property {string} keep which end
 * @property {string[]} lines what else to do, from top to bottom
 * @property {string[]} lay_lines the same once it is cut
 * @property {What | null} cut
 * @property {What} lay
 * @property {What[] | null} wrong_end
 * @property {string} picture the board at the saw, as SVG; "" where nothing is cut
 * @typedef {{ name: string, title: string, items: string[], row: number | null }} Check
 * @typedef {object} Job
 * @property {string} id
 * @property {string} name
 * @property {string} unit
 * @property {number[]} board_mm
 * @property {number} per_pack
 * @property {number} every_rows
 * @property {number} revision of the plan that the cards are of
 * @property {Card[]} cards
 * @property {Check[]} checks
 * @property {Record<string, import('./drift.js').Field>} fields by row
 * @property {LayingEvent[]} events
 */

export class Day {
  /** @param {Job} job @param {LayingEvent[]} events @param {string} device */
  constructor(job, events, device) {
    this.job = job;
    this.device = device;
    this.events = inOrder([...job.events, ...events]);
    this.state = fold(this.events, job.board_mm);
  }

  /** The events with some more. @param {LayingEvent[]} events */
  with(events) {
    return new Day(this.job, [...this.events, ...events], this.device);
  }

  /** The first card whose piece does not lie. @returns {Card | undefined} */
  card() {
    return this.job.cards.find((card) => !this.state.laid.has(card.piece));
  }

  /** @param {string} piece */
  isInHand(piece) {
    return this.state.hand.has(piece);
  }

  /** Whether the log goes on with another plan than that of the cards. */
  isBehind() {
    return this.state.revision !== this.job.revision;
  }

  /** Cards that can be cut now, from the next row on: what they are cut from is at hand. */
  cuts() {
    return this.job.cards.filter(({ piece, cut }) => (
      cut && !this.state.laid.has(piece) && !this.isInHand(piece) && (!cut.source || this.state.shelf.has(cut.source))));
  }

  /** What doing a card writes down. @param {Card} card @returns {What[]} */
  done(card) {
    if (this.isInHand(card.piece)) return [{ kind: 'piece-laid', piece: card.piece, whole: false, pack: '' }];
    return card.cut ? [this.cut(card.cut), card.lay] : [card.lay];
  }

  /**
   * A cut with marks that are on no other offcut; letters are the plan's and stay.
   * @param {What} cut @returns {What}
   */
  cut(cut) {
    const used = new Set([...this.state.shelf.keys()].filter((label) => label !== cut.source));
    const rests = (cut.rests ?? []).map((/** @type {{ label: string }} */ rest) => {
      const label = /^[A-Za-z]+$/.test(rest.label) ? rest.label : freeMark(rest.label, used);
      used.add(label);
      return { ...rest, label };
    });
    return { ...cut, rests };
  }

  /** What keeping the wrong end of a card's cut writes down. @param {What[]} whats @returns {What[]} */
  wrongEnd(whats) {
    const used = new Set(this.state.shelf.keys());
    return whats.map((what) => (
      what.kind === 'piece-cut' ? this.cut(what) : { ...what, label: freeMark(what.label, used) }));
  }

  /** The check that comes before the next piece. @returns {Check | undefined} */
  check() {
    const coming = this.job.cards.filter((card) => !this.state.laid.has(card.piece)).map((card) => card.row);
    const next = coming.length ? Math.min(...coming) : Infinity;
    return this.job.checks.find((check) => {
      const due = check.name === 'before row 1'
        || (check.name === 'before trim' && next === Infinity)
        || (check.row !== null && next !== Infinity && next > check.row);
      return due && !this.state.checks.get(check.name) && !this.passed(check);
    });
  }

  /** Whether work went on without it so far that asking is only in the way. @param {Check} check */
  passed(check) {
    if (check.name === 'before row 1') return this.state.laid.size > 0;
    if (check.row === null) return false;
    const later = check.row + this.job.every_rows;
    return [...this.state.laid.keys()].some((piece) => parseInt(piece, 10) >= later);
  }

  /** What the last distances to the far wall say of the last row. */
  forecast() {
    const read = [...this.state.measured.values()].filter((one) => one.what === 'to the far wall');
    const at = (/** @type {number} */ row, /** @type {string} */ end) => (
      read.find((one) => one.row === row && one.end === end)?.length_mm);
    const rows = read.map((one) => one.row).filter((row) => at(row, 'near') !== undefined && at(row, 'far') !== undefined);
    const row = Math.max(0, ...rows);
    const field = this.job.fields[row];
    return field ? forecastLastRow(field, [Number(at(row, 'near')), Number(at(row, 'far'))]) : null;
  }

  /** The events to write down for what happened. @param {What[]} whats @returns {LayingEvent[]} */
  made(whats) {
    const last = this.events.length ? this.events[this.events.length - 1].order : 0;
    return whats.map((what, index) => /** @type {LayingEvent} */ ({
      id: newId(), order: last + 1 + index, device: this.device,
      at: new Date().toISOString().replace(/\.\d+Z/, 'Z'), ...what,
    }));
  }

  /**
   * Why some of these events cannot have happened; "" when they can.
   * @param {LayingEvent[]} events
   */
  refusal(events) {
    const after = this.with(events).state.set_aside;
    const reason = events.map((event) => after.get(event.id)).find(Boolean);
    if (reason) return reason;
    return [...after.keys()].some((id) => !this.state.set_aside.has(id)) ? 'later events rest on it' : '';
  }

  /** The last event that stands. @returns {LayingEvent | undefined} */
  last() {
    const back = takenBack(this.events);
    return this.events.filter((event) => event.kind !== 'undone' && !back.has(event.id)).at(-1);
  }
}

/** The mark, or the same with the next free number. @param {string} mark @param {Set<string>} taken */
function freeMark(mark, taken) {
  let free = mark;
  for (let number = 2; taken.has(free); number += 1) free = `${mark}-${number}`;
  return free;
}

export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

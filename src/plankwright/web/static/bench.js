/** The bench: one open job, its drawing beside its column of words. */

import { Chalk } from './drawing/chalk.js';
import { Grips } from './drawing/grips.js';
import { LineLayer } from './drawing/line_layer.js';
import { PieceLayer } from './drawing/piece_layer.js';
import { RoomLayer } from './drawing/room_layer.js';
import { SheetView } from './drawing/sheet_view.js';
import { Stage, boundsOf } from './drawing/stage.js';
import { Day } from './day.js';
import { add, h, refill } from './dom.js';
import { fillHead, showKept } from './head.js';
import { latest, call, RefusedError } from './net.js';
import { Planner } from './planner.js';
import { chainOf, isGrowing, tapeOf } from './steps/tape.js';
import { markRepair } from './steps/repair.js';
import { stepsInOrder } from './steps/all.js';
import { words } from './strings.js';

/** @typedef {import('./job.js').Job} Job */
/** @typedef {import('./drawing/picture.js').Piece} Piece */

/**
 * @typedef {object} Step
 * @property {string} key
 * @property {(bench: Bench) => string} brief
 * @property {(bench: Bench) => import('./dom.js').Child[]} view
 * @property {(bench: Bench) => void} [enter]
 * @property {(bench: Bench) => void} [draw]
 * @property {(bench: Bench) => void} [live] what moves with the start line while it is dragged
 */

export class Bench {
  /**
   * @param {HTMLElement} page
   * @param {Job} job
   * @param {string} open
   */
  constructor(page, job, open) {
    this.job = job;
    this.open = open;
    /** @type {any} what the server understood of the document */
    this.measured = null;
    /** @type {any} the last room that could be read: its fields stay while one of them is wrong */
    this.knownRoom = null;
    /** @type {any} why there is no plan, slab or list */
    this.refusal = null;
    /** @type {Piece | null} */
    this.picked = null;
    /** @type {Record<string, any>} what steps keep while the job is open */
    this.kept = {};
    /** @type {Set<string>} details that are open, by their id */
    this.openDetails = new Set();
    this.drawing = h('div', { class: 'drawing' });
    this.column = h('main', { class: 'words' });
    refill(page, h('div', { class: 'bench' }, this.drawing, this.column));
    this.empty = h('div', { class: 'empty' });
    this.hint = h('div', { class: 'hint' });
    this.heads = h('header', { class: 'head' });
    this.stage = new Stage(this.drawing);
    this.furnish();
    this.rooms = new RoomLayer(this.stage);
    this.lines = new LineLayer(this.stage);
    this.pieces = new PieceLayer(this.stage, (piece) => this.pick(piece), () => this.chalk.held);
    this.chalk = new Chalk(this.stage);
    this.grips = new Grips(this.stage);
    this.sheet = new SheetView(this);
    this.planner = new Planner(this);
    this.day = new Day(this);
    this.measure = latest(
      (document) => call('POST', '/api/measure', { document }),
      (found) => this.takeMeasured(found),
      (error) => this.fail(error),
    );
    job.addEventListener('change', () => this.changed());
    job.addEventListener('kept', () => showKept(this));
    this.measure(job.document);
    this.fillColumn();
  }

  furnish() {
    const whole = h('button', { class: 'word', type: 'button', onclick: () => this.stage.fit(this.stage.bounds, true) }, words.view.whole);
    const closer = h('button', { class: 'word', type: 'button', onclick: () => this.stage.zoom(1.6) }, words.view.closer);
    add(this.drawing, this.empty, this.hint, h('div', { class: 'views' }, closer, whole));
    const list = h('div');
    add(this.column, this.heads, list);
    for (const step of stepsInOrder) {
      add(list, h('section', { class: 'step', id: `step-${step.key}` }));
    }
  }

  changed() {
    this.measure(this.job.document);
    this.planner.changed();
    this.step.enter?.(this);
    this.fillColumn();
  }

  /** @param {any} found */
  takeMeasured(found) {
    this.measured = found;
    const { outline, walls } = this.job.document.room ?? {};
    this.knownRoom = found.room ?? (outline || walls ? this.knownRoom : null);
    this.draw();
    this.planner.roomKnown();
    this.step.enter?.(this);
    this.fillColumn();
  }

  /** @param {unknown} error */
  fail(error) {
    if (error instanceof RefusedError) this.refusal = error.refusal;
    this.fillColumn();
  }

  /** The plan that is shown: the one that is laid, once laying has begun. */
  get picture() {
    const laying = ['lay', 'trim', 'tell'].includes(this.open);
    return laying && this.day?.begun ? this.day.picture : this.planner.picture;
  }

  /** Whether another page has taken the place of this one. */
  get isGone() {
    return !this.column.isConnected;
  }

  /** Another page takes the place of this one. */
  leave() {
    this.planner.stop();
    this.day.leave();
    this.stage.watcher.disconnect();
  }

  /** Something happened on the floor. */
  dayChanged() {
    if (this.isGone || !this.day) return;
    if (['lay', 'trim', 'tell'].includes(this.open)) this.draw();
    this.markDay();
    this.fillColumn();
  }

  /** What lies is tinted, what comes next has a blue outline. */
  markDay() {
    this.kept.looks = new Map();
    if (this.open === 'lay' && this.day.begun) {
      for (const id of this.day.state.laid.keys()) this.kept.looks.set(id, 'laid');
      const { next } = this.day;
      if (next) this.kept.looks.set(next.piece, 'next-piece');
      markRepair(this, this.kept.looks);
    }
    this.markPieces();
  }

  get step() {
    return /** @type {Step} */ (stepsInOrder.find((step) => step.key === this.open) ?? stepsInOrder[0]);
  }

  /** Draw what belongs to the open step. */
  draw() {
    const found = this.measured;
    const planning = !['measure', 'slab', 'board'].includes(this.open);
    const growing = this.open === 'measure' && isGrowing(this);
    const room = growing ? null : found?.room;
    const survey = growing ? null : found?.survey;
    const chain = chainOf(this);
    const shown = planning || this.open === 'board' ? this.picture : null;
    const rings = room?.outline ?? survey?.outline;
    if (rings) this.stage.fit(boundsOf(rings));
    else if (chain.length > 1) this.stage.fit(boundsOf([chain.flatMap((p) => [p.x * 10, p.y * 10])]));
    const measuring = this.open === 'measure';
    const drawn = measuring && Boolean(this.job.document.room?.outline);
    this.rooms.show({ room, survey, chain, showLengths: measuring, showTape: measuring, drawn });
    this.lines.show(shown ? null : room);
    this.pieces.avoid = (room?.fixed ?? []).map((/** @type {any} */ thing) => boundsOf(thing.outline));
    this.pieces.show(shown);
    this.chalk.show(null, 0, 'mm');
    this.grips.show([]);
    this.step.draw?.(this);
    const nothing = !rings && chain.length < 2;
    refill(this.empty, nothing && h('p', {}, h('strong', {}, words.measure.emptyTitle), h('br'), words.measure.emptyText));
    const area = room ? [h('b', {}, this.job.document.job?.name || words.nameless), ` ${room.area}`] : [];
    refill(this.hint, h('span', {}, area), h('span', {}, this.hintWords()));
  }

  hintWords() {
    const hints = /** @type {Record<string, string>} */ (words.hints);
    return this.picture || this.open === 'measure' ? (hints[this.open] ?? '') : '';
  }

  /** @param {Piece | null} piece */
  pick(piece) {
    this.picked = piece && this.picked?.id === piece.id ? null : piece;
    this.markPieces();
    this.fillColumn();
    document.getElementById('picked')?.scrollIntoView({ block: 'nearest' });
  }

  markPieces() {
    /** @type {Map<string, string>} */
    const looks = new Map(this.kept.looks ?? []);
    if (this.picked) {
      for (const piece of this.picture?.pieces ?? []) {
        if (piece.board === this.picked.board) looks.set(piece.id, `${looks.get(piece.id) ?? ''} same-board`);
      }
      looks.set(this.picked.id, `${looks.get(this.picked.id) ?? ''} picked`);
    }
    this.pieces.mark(looks);
  }

  /** @param {string} key */
  go(key) {
    this.open = key;
    this.refusal = null;
    this.picked = null;
    history.replaceState(null, '', `#/job/${this.job.id}/${key}`);
    this.sheet.hide();
    this.planner.roomKnown();
    this.step.enter?.(this);
    this.draw();
    this.markDay();
    this.fillColumn();
    const section = document.getElementById(`step-${key}`);
    section?.querySelector('button')?.focus({ preventScroll: true });
    section?.scrollIntoView({ block: 'start' });
  }

  fillColumn() {
    fillHead(this);
    stepsInOrder.forEach((step, i) => {
      const section = document.getElementById(`step-${step.key}`);
      if (section) this.fillStep(section, step, i + 1);
    });
  }

  /** @param {HTMLElement} section @param {Step} step @param {number} number */
  fillStep(section, step, number) {
    const isOpen = step.key === this.open;
    section.className = isOpen ? 'step open' : 'step';
    const names = /** @type {Record<string, string>} */ (words.steps);
    const button = h(
      'button',
      { type: 'button', id: `open-${step.key}`, 'aria-expanded': String(isOpen), onclick: () => this.go(step.key) },
      h('span', { class: 'count' }, number),
      h('span', {}, names[step.key]),
      h('span', { class: 'brief' }, isOpen ? '' : step.brief(this)),
    );
    const inside = isOpen && h('div', { class: 'inside' }, /** @type {any} */ (step.view(this)));
    // open before the focus comes back: what is closed cannot have it
    if (inside) for (const details of inside.querySelectorAll('details')) this.keepOpen(details);
    refill(section, h('h2', {}, button), inside);
  }

  /** What a person has opened stays open when the column is filled anew. @param {HTMLDetailsElement} details */
  keepOpen(details) {
    if (this.openDetails.has(details.id)) details.open = true;
    details.addEventListener('toggle', () => {
      if (details.open) this.openDetails.add(details.id);
      else this.openDetails.delete(details.id);
    });
  }

  /** The next step's name on the one main action. @param {string} key */
  onward(key) {
    const names = /** @type {Record<string, string>} */ (words.steps);
    return h('button', { class: 'main', type: 'button', onclick: () => this.go(key) }, words.goOn(names[key]));
  }

  /** Said aloud for those who do not see it. @param {string} told */
  say(told) {
    const place = document.getElementById('say');
    if (place) place.textContent = told;
  }

  /** A typed length [mm], or null when it cannot be read. @param {string} typed */
  async readLength(typed) {
    const found = await call('POST', '/api/measure', { document: { job: { unit: this.job.unit }, board: { length: typed } } });
    return found.lengths['board.length']?.mm ?? null;
  }

  get tape() {
    return tapeOf(this.job.document);
  }
}

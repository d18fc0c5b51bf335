/**
 * The pieces of a plan: only what changed is touched, and never so much that a frame is lost.
 * While the start line is dragged they are drawn row by row, all of one kind as one path.
 */

import { s } from '../dom.js';
import { words } from '../strings.js';
import { axesOf } from './picture.js';
import { pathOf } from './stage.js';

/** @typedef {import('./picture.js').Piece} Piece */
/** @typedef {import('./picture.js').Picture} Picture */

const MOST_MS = 4; // time spent on pieces in a frame
const DRAWN = 'pieces-drawn';
const LETTER_PX = 15;

export class PieceLayer {
  /**
   * @param {import('./stage.js').Stage} stage
   * @param {(piece: Piece) => void} pick
   * @param {() => boolean} isHeld whether something is being dragged: letters wait until it rests
   */
  constructor(stage, pick, isHeld) {
    this.isHeld = isHeld;
    this.stage = stage;
    this.pick = pick;
    /** @type {Map<string, {path: SVGPathElement, shape: string, look: string}>} */
    this.drawn = new Map();
    /** @type {Map<string, Piece>} */
    this.pieces = new Map();
    /** @type {Set<string>} */
    this.waiting = new Set();
    /** @type {Map<string, string>} */
    this.looks = new Map();
    this.group = s('g', { class: 'pieces', tabindex: 0, role: 'group', 'aria-label': words.piece.all });
    this.rows = s('g', { class: 'moving', 'aria-hidden': 'true' });
    this.at = '';
    this.letters = s('g', { 'aria-hidden': 'true' });
    this.splines = s('g', { 'aria-hidden': 'true' });
    stage.boards.append(this.group, this.rows, this.splines);
    stage.marks.append(this.letters);
    /** @type {import('./picture.js').Laying | null} */
    this.laying = null;
    /** @type {import('./stage.js').Bounds[]} fixed things, on which no number stands */
    this.avoid = [];
    this.frame = 0;
    this.resting = 0;
    this.listen();
    stage.addEventListener('scale', () => this.letter());
  }

  listen() {
    this.group.addEventListener('click', (event) => {
      const id = /** @type {Element} */ (event.target).getAttribute('data-id');
      const piece = id ? this.pieces.get(id) : undefined;
      if (piece) this.choose(piece);
    });
    this.group.addEventListener('keydown', (event) => this.key(event));
  }

  /** @param {Piece} piece */
  choose(piece) {
    this.at = piece.id;
    this.pick(piece);
  }

  /** The arrow keys go from piece to piece in laying order, up and down from row to row. @param {KeyboardEvent} event */
  key(event) {
    const order = [...this.pieces.values()].sort((a, b) => a.layOrder - b.layOrder);
    const now = order.findIndex((piece) => piece.id === this.at);
    /** @type {Record<string, () => Piece | undefined>} */
    const ways = {
      ArrowRight: () => order[Math.min(now + 1, order.length - 1)],
      ArrowLeft: () => order[Math.max(now - 1, 0)],
      ArrowDown: () => order.find((piece) => piece.row === (order[now]?.row ?? 0) + 1),
      ArrowUp: () => order.find((piece) => piece.row === (order[now]?.row ?? 2) - 1),
    };
    const next = ways[event.key]?.();
    if (!ways[event.key]) return;
    event.preventDefault();
    if (next && next.id !== this.at) this.choose(next);
  }

  /** @param {Picture | null} picture */
  show(picture) {
    this.laying = picture?.laying ?? null;
    this.pieces = new Map((picture?.pieces ?? []).map((piece) => [piece.id, piece]));
    for (const id of this.pieces.keys()) this.waiting.add(id);
    for (const id of this.drawn.keys()) if (!this.pieces.has(id)) this.waiting.add(id);
    if (this.letters.firstChild) this.letters.replaceChildren();
    this.splines.replaceChildren(...(this.laying?.splines ?? []).flatMap(splineOf));
    this.begin();
  }

  /**
   * Draw these instead while something moves: few paths, all changed in one frame.
   * @param {[string, string][]} rows kind and path of what lies in a row
   */
  move(rows) {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.group.style.display = 'none';
    this.splines.replaceChildren();
    if (this.letters.firstChild) this.letters.replaceChildren();
    while (this.rows.childElementCount > rows.length) this.rows.lastChild?.remove();
    while (this.rows.childElementCount < rows.length) this.rows.append(s('path'));
    rows.forEach(([kind, path], i) => {
      const element = this.rows.children[i];
      element.setAttribute('class', `piece ${kind}`);
      element.setAttribute('d', path);
    });
    this.drawnNow();
  }

  /** The pieces are drawn: they take the place of the rows that moved. */
  settle() {
    this.rows.replaceChildren();
    this.group.style.display = '';
    this.drawnNow();
    this.rest();
  }

  drawnNow() {
    performance.clearMarks(DRAWN);
    performance.mark(DRAWN); // for the benchmark
  }

  /**
   * Mark pieces with a look of their own; all others lose theirs.
   * @param {Map<string, string>} looks
   */
  mark(looks) {
    for (const id of [...this.looks.keys(), ...looks.keys()]) this.waiting.add(id);
    this.looks = looks;
    this.begin();
  }

  begin() {
    if (!this.frame) this.frame = requestAnimationFrame(() => this.work());
  }

  /** Bring waiting pieces up to date for some milliseconds, then let the frame be painted. */
  work() {
    this.frame = 0;
    const end = performance.now() + MOST_MS;
    for (const id of this.waiting) {
      this.waiting.delete(id);
      this.update(id);
      if (performance.now() > end) break;
    }
    if (this.waiting.size) this.begin();
    else this.settle();
  }

  /** @param {string} id */
  update(id) {
    const piece = this.pieces.get(id);
    const old = this.drawn.get(id);
    if (!piece) {
      old?.path.remove();
      this.drawn.delete(id);
      return;
    }
    const look = `piece ${piece.kind} ${this.looks.get(id) ?? ''}`;
    const entry = old ?? { path: s('path', { 'data-id': id }), shape: '', look: '' };
    const shape = pathOf(piece.rings);
    if (entry.shape !== shape) entry.path.setAttribute('d', shape);
    entry.shape = shape;
    if (entry.look !== look) entry.path.setAttribute('class', look);
    if (!old || (entry.look !== look && this.looks.has(id))) this.group.append(entry.path);
    entry.look = look;
    this.drawn.set(id, entry);
  }

  /** When the hand rests: letters of offcuts and row numbers come back. */
  rest() {
    window.clearTimeout(this.resting);
    this.resting = window.setTimeout(() => (this.isHeld() ? this.rest() : this.letter()), 150);
  }

  letter() {
    this.letters.replaceChildren();
    const given = lettersOf(this.pieces.values());
    const room = LETTER_PX * this.stage.px;
    for (const piece of this.pieces.values()) {
      const letter = given.get(piece.id);
      if (!letter || piece.width < room || piece.length < room * 0.8 * letter.length) continue;
      const [x, y] = middleOf(piece.rings[0]);
      this.letters.append(s('text', { class: 'letter', x, y: -y }, letter));
    }
    if (this.laying) this.rowNumbers(this.laying);
  }

  /** Row numbers on both walls; only some where rows are narrow on the screen. @param {import('./picture.js').Laying} laying */
  rowNumbers(laying) {
    const axes = axesOf(laying);
    /** @type {Map<number, [number, number, number, number]>} least and greatest u, the middle of both v */
    const rows = new Map();
    for (const piece of this.pieces.values()) {
      const [x, y] = middleOf(piece.rings[0]);
      const { u, v } = axes.plan({ x, y });
      const row = rows.get(piece.row) ?? [Infinity, -Infinity, v, v];
      if (u - piece.length / 2 < row[0]) [row[0], row[2]] = [u - piece.length / 2, v];
      if (u + piece.length / 2 > row[1]) [row[1], row[3]] = [u + piece.length / 2, v];
      rows.set(piece.row, row);
    }
    const [first] = this.pieces.values();
    const wide = first ? Math.max(...[...this.pieces.values()].map((piece) => piece.width)) / this.stage.px : 1;
    const every = wide > 13 ? 1 : wide > 6 ? 5 : 10;
    const off = 15 * this.stage.px;
    for (const [number, [u0, u1, v0, v1]] of rows) {
      if (number % every && number !== 1) continue;
      for (const spot of [axes.room(u0 - off, v0), axes.room(u1 + off, v1)]) {
        if (this.avoid.some(([x0, y0, x1, y1]) => spot.x > x0 && spot.x < x1 && spot.y > y0 && spot.y < y1)) continue;
        this.letters.append(s('text', { class: 'rownumber', x: spot.x, y: -spot.y }, String(number)));
      }
    }
  }
}

/** A heavy line with a broken white core, as on paper. @param {[number, number, number, number]} ends */
function splineOf([x1, y1, x2, y2]) {
  const line = { x1, y1: -y1, x2, y2: -y2 };
  return [s('line', { ...line, class: 'spline' }), s('line', { ...line, class: 'spline-core' })];
}

/**
 * An offcut and the board it came from bear the same letter.
 * @param {Iterable<Piece>} pieces
 */
export function lettersOf(pieces) {
  /** @type {Map<number, Piece[]>} */
  const boards = new Map();
  for (const piece of pieces) {
    const others = boards.get(piece.board);
    if (others) others.push(piece);
    else boards.set(piece.board, [piece]);
  }
  /** @type {Map<string, string>} */
  const letters = new Map();
  for (const together of boards.values()) {
    const labels = together.flatMap((piece) => (piece.label ? [piece.label] : []));
    if (!labels.length) continue;
    for (const piece of together) letters.set(piece.id, piece.label ?? labels.join(' '));
  }
  return letters;
}

/** @param {number[]} ring */
export function middleOf(ring) {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    [x0, x1] = [Math.min(x0, ring[i]), Math.max(x1, ring[i])];
    [y0, y1] = [Math.min(y0, ring[i + 1]), Math.max(y1, ring[i + 1])];
  }
  return [(x0 + x1) / 20, (y0 + y1) / 20];
}

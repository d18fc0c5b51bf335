/** The start line, struck in chalk across the floor: dragged, or moved by the arrow keys. */

import { s } from '../dom.js';
import { formatLength } from '../lengths.js';
import { words } from '../strings.js';
import { axesOf } from './picture.js';

/** @typedef {import('./picture.js').Laying} Laying */

export class Chalk extends EventTarget {
  /** @param {import('./stage.js').Stage} stage */
  constructor(stage) {
    super();
    this.stage = stage;
    /** @type {Laying | null} */
    this.laying = null;
    this.width = 0;
    this.unit = 'mm';
    this.first = 0;
    this.held = false;
    this.line = s('line', { class: 'chalkline' });
    this.rows = s('path', { class: 'rowline' });
    this.word = s('text', { class: 'gripword' });
    this.moving = s('g', {}, this.rows, this.line);
    this.grip = s('circle', {
      class: 'grip', tabindex: 0, role: 'slider', 'aria-label': words.plan.startLine,
      'aria-orientation': 'vertical',
    });
    this.group = s('g', {}, this.moving, this.word);
    stage.chalk.append(this.group);
    stage.grips.append(this.grip);
    this.listen();
    stage.addEventListener('scale', () => this.place());
    this.show(null, 0, 'mm');
  }

  /**
   * @param {Laying | null} laying
   * @param {number} width of a board [mm]
   * @param {string} unit
   * @param {number} [first] width of row 1 [mm]
   */
  show(laying, width, unit, first = width) {
    const display = laying ? '' : 'none';
    this.group.style.display = display;
    this.grip.style.display = display;
    if (this.held || !laying) return;
    this.laying = laying;
    this.width = width;
    this.unit = unit;
    this.first = Math.min(first, width);
    this.place();
  }

  /** Put line and grip where row 1 ends; the lines of the other rows go with it. */
  place() {
    if (!this.laying) return;
    const axes = axesOf(this.laying);
    const [u0, v0, u1] = this.laying.bounds_uv;
    const over = 26 * this.stage.px;
    const [a, b] = [axes.room(u0 - over, v0), axes.room(u1 + over, v0)];
    set(this.line, { x1: a.x, y1: -a.y, x2: b.x, y2: -b.y });
    this.rows.setAttribute('d', this.held ? this.rowLines() : '');
    set(this.grip, { r: 13 * this.stage.px, 'aria-valuemin': 1, 'aria-valuemax': Math.round(this.width) });
    const middle = axes.room((u0 + u1) / 2, v0);
    set(this.word, { x: middle.x, y: -middle.y });
    this.shift();
  }

  /** The lines of the rows beyond the first, as far from the start line as they are. */
  rowLines() {
    if (!this.laying) return '';
    const axes = axesOf(this.laying);
    const [u0, v0, u1, v1] = this.laying.bounds_uv;
    let path = '';
    for (let v = v0 + this.width; v < v1; v += this.width) {
      const [p, q] = [axes.room(u0, v), axes.room(u1, v)];
      path += `M${p.x} ${-p.y}L${q.x} ${-q.y}`;
    }
    return path;
  }

  /** Move everything to where row 1 ends: the only thing that changes with every frame. */
  shift() {
    if (!this.laying) return;
    const axes = axesOf(this.laying);
    const by = axes.room(0, this.first);
    const [u0, v0] = this.laying.bounds_uv;
    this.group.setAttribute('transform', `translate(${by.x} ${-by.y})`);
    const seat = axes.room(u0 - 26 * this.stage.px, v0 + this.first);
    const told = words.plan.firstRow(formatLength(this.first, this.unit));
    set(this.grip, { cx: seat.x, cy: -seat.y, 'aria-valuenow': Math.round(this.first), 'aria-valuetext': told });
    this.word.textContent = this.held ? told : '';
  }

  listen() {
    this.grip.addEventListener('pointerdown', (event) => this.take(event));
    this.grip.addEventListener('pointermove', (event) => {
      if (this.held) this.drag(event);
    });
    for (const end of ['pointerup', 'pointercancel']) {
      this.grip.addEventListener(end, () => this.letGo());
    }
    this.grip.addEventListener('keydown', (event) => this.key(/** @type {KeyboardEvent} */ (event)));
  }

  /** @param {PointerEvent} event */
  take(event) {
    if (!this.laying) return;
    this.grip.setPointerCapture(event.pointerId);
    this.held = true;
    this.off = this.first - (axesOf(this.laying).plan(this.stage.spot(event)).v - this.laying.bounds_uv[1]);
    this.place();
    this.dispatchEvent(new Event('take'));
    event.preventDefault();
    this.grip.focus();
  }

  /** @param {PointerEvent} event */
  drag(event) {
    if (!this.laying) return;
    const v = axesOf(this.laying).plan(this.stage.spot(event)).v - this.laying.bounds_uv[1];
    this.move(v + (this.off ?? 0));
  }

  /** @param {number} first */
  move(first) {
    const mark = this.unit === 'in' || this.unit === 'ft' ? 25.4 / 16 : 1;
    const next = Math.round(Math.min(this.width, Math.max(10, first)) / mark) * mark;
    if (Math.abs(next - this.first) < 1e-6) return;
    this.first = Math.min(next, this.width);
    this.shift();
    this.dispatchEvent(new Event('move'));
  }

  letGo() {
    if (!this.held) return;
    this.held = false;
    this.place();
    this.dispatchEvent(new Event('rest'));
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const mark = this.unit === 'in' || this.unit === 'ft' ? 25.4 / 8 : 2;
    /** @type {Record<string, number>} */
    const steps = { ArrowUp: -mark, ArrowLeft: -mark, ArrowDown: mark, ArrowRight: mark, PageUp: -8 * mark, PageDown: 8 * mark };
    const step = steps[event.key];
    if (step === undefined) return;
    event.preventDefault();
    this.dispatchEvent(new Event('take'));
    this.move(this.first + step);
    this.dispatchEvent(new Event('rest'));
  }
}

/**
 * @param {Element} element
 * @param {Record<string, string | number>} attributes
 */
function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
}

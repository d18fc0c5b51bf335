/** The stage of the drawing: two sheets over each other, and what part of the room they show. */

import { add, h, s } from '../dom.js';

/** @typedef {{x: number, y: number}} Spot room coordinates [mm], y up */
/** @typedef {[number, number, number, number]} Bounds x0, y0, x1, y1 in room coordinates [mm] */

const MARGIN_PX = 58;
const CLOSEST = 40;

export class Stage extends EventTarget {
  /** @param {HTMLElement} host */
  constructor(host) {
    super();
    this.host = host;
    this.sheet = s('svg', { class: 'sheet', role: 'group', 'aria-label': 'Drawing' });
    this.over = s('svg', { class: 'over' });
    this.under = s('g');
    this.boards = s('g');
    this.marks = s('g');
    this.chalk = s('g', { class: 'chalk' });
    this.grips = s('g');
    add(this.sheet, hatches(), this.under, this.boards, this.marks);
    add(this.over, this.chalk, this.grips);
    this.frame = h('div', { class: 'stage' });
    add(this.frame, this.sheet, this.over);
    add(host, this.frame);
    /** @type {Bounds} */
    this.bounds = [0, 0, 5000, 4000];
    this.px = 1;
    this.closer = 1;
    this.center = { x: 2500, y: 2000 };
    this.moved = false;
    this.watcher = new ResizeObserver(() => this.look());
    this.watcher.observe(host);
    this.listen();
  }

  /**
   * Show these bounds, unless the person has moved nearer on purpose.
   * @param {Bounds} bounds
   * @param {boolean} [again] also when the person has moved
   */
  fit(bounds, again = false) {
    const same = bounds.every((side, i) => Math.abs(side - this.bounds[i]) < 0.5);
    if (same && !again) return;
    this.bounds = bounds;
    if (again) this.moved = false;
    if (!this.moved) {
      this.closer = 1;
      this.center = { x: (bounds[0] + bounds[2]) / 2, y: (bounds[1] + bounds[3]) / 2 };
    }
    this.look();
  }

  /** Set both sheets' view from bounds, center and closeness. */
  look() {
    const width = this.host.clientWidth || 1;
    const height = this.host.clientHeight || 1;
    const margin = Math.min(MARGIN_PX, width / 6, height / 6);
    const [x0, y0, x1, y1] = this.bounds;
    const fitting = Math.max(
      Math.max(x1 - x0, 100) / (width - 2 * margin),
      Math.max(y1 - y0, 100) / (height - 2 * margin),
    );
    const px = fitting / this.closer;
    const box = `${this.center.x - (width * px) / 2} ${-this.center.y - (height * px) / 2} ${width * px} ${height * px}`;
    this.sheet.setAttribute('viewBox', box);
    this.over.setAttribute('viewBox', box);
    if (px !== this.px) {
      this.px = px;
      this.frame.style.setProperty('--px', String(px));
      for (const pattern of this.sheet.querySelectorAll('pattern')) {
        const turned = pattern.getAttribute('data-turned') ?? '0';
        pattern.setAttribute('patternTransform', `rotate(${turned}) scale(${px})`);
      }
      this.dispatchEvent(new Event('scale'));
    }
  }

  /**
   * Where a pointer is in the room.
   * @param {{clientX: number, clientY: number}} event
   * @returns {Spot}
   */
  spot(event) {
    const box = this.host.getBoundingClientRect();
    return {
      x: this.center.x + (event.clientX - box.left - box.width / 2) * this.px,
      y: this.center.y - (event.clientY - box.top - box.height / 2) * this.px,
    };
  }

  /** Move nearer about a spot. @param {number} factor @param {Spot} [about] */
  zoom(factor, about = this.center) {
    const closer = Math.min(CLOSEST, Math.max(1, this.closer * factor));
    const real = closer / this.closer;
    this.center = {
      x: about.x + (this.center.x - about.x) / real,
      y: about.y + (this.center.y - about.y) / real,
    };
    this.closer = closer;
    this.moved = closer > 1;
    if (!this.moved) this.fit(this.bounds, true);
    else this.look();
  }

  /** Wheel, one finger on the ground, two fingers anywhere. */
  listen() {
    /** @type {Map<number, PointerEvent>} */
    const down = new Map();
    this.frame.addEventListener(
      'wheel',
      (event) => {
        event.preventDefault();
        this.zoom(Math.exp(-event.deltaY / 400), this.spot(event));
      },
      { passive: false },
    );
    this.frame.addEventListener('pointerdown', (event) => {
      if (!(/** @type {Element} */ (event.target).closest('.grip'))) down.set(event.pointerId, event);
    });
    this.frame.addEventListener('pointermove', (event) => {
      const last = down.get(event.pointerId);
      if (!last) return;
      this.follow(last, event, [...down.values()].find((other) => other.pointerId !== event.pointerId));
      down.set(event.pointerId, event);
    });
    for (const end of ['pointerup', 'pointercancel', 'pointerleave']) {
      this.frame.addEventListener(end, (event) => down.delete(/** @type {PointerEvent} */ (event).pointerId));
    }
  }

  /**
   * @param {PointerEvent} last
   * @param {PointerEvent} now
   * @param {PointerEvent} [other]
   */
  follow(last, now, other) {
    if (!other && !this.moved) return;
    if (other) {
      const before = Math.hypot(last.clientX - other.clientX, last.clientY - other.clientY);
      const after = Math.hypot(now.clientX - other.clientX, now.clientY - other.clientY);
      const middle = { clientX: (now.clientX + other.clientX) / 2, clientY: (now.clientY + other.clientY) / 2 };
      if (before > 0) this.zoom(after / before, this.spot(middle));
      return;
    }
    this.center = {
      x: this.center.x - (now.clientX - last.clientX) * this.px,
      y: this.center.y + (now.clientY - last.clientY) * this.px,
    };
    this.look();
  }
}

/** Hatches carry the meaning: starters one way, end pieces the other, wall to wall crossed. */
function hatches() {
  const kinds = /** @type {[string, number, string][]} */ ([
    ['hatch-starter', 45, 'M0 4H8'],
    ['hatch-end', -45, 'M0 4H8'],
    ['hatch-cross', 45, 'M0 4H8M4 0V8'],
  ]);
  return s(
    'defs',
    {},
    kinds.map(([id, turned, path]) =>
      s(
        'pattern',
        { id, width: 8, height: 8, patternUnits: 'userSpaceOnUse', 'data-turned': turned },
        s('rect', { width: 8, height: 8, class: 'hatch-ground' }),
        s('path', { d: path, class: 'hatch' }),
      ),
    ),
  );
}

/**
 * Bounds of rings of tenths of a millimeter.
 * @param {number[][]} rings
 * @returns {Bounds}
 */
export function boundsOf(rings) {
  /** @type {Bounds} */
  const bounds = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      bounds[0] = Math.min(bounds[0], ring[i] / 10);
      bounds[1] = Math.min(bounds[1], ring[i + 1] / 10);
      bounds[2] = Math.max(bounds[2], ring[i] / 10);
      bounds[3] = Math.max(bounds[3], ring[i + 1] / 10);
    }
  }
  return bounds;
}

/**
 * Rings of tenths of a millimeter as the path of an SVG, y down.
 * @param {number[][]} rings
 */
export function pathOf(rings) {
  let path = '';
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      path += `${i ? 'L' : 'M'}${ring[i] / 10} ${-ring[i + 1] / 10}`;
    }
    path += 'Z';
  }
  return path;
}

/** Grips: things of the drawing that are taken hold of, by hand or by the arrow keys. */

import { s } from '../dom.js';

/**
 * @typedef {object} Grip
 * @property {string} id
 * @property {string} label
 * @property {{x: number, y: number}} spot
 * @property {(spot: {x: number, y: number}, off: {x: number, y: number}) => void} move
 * @property {() => void} rest
 * @property {() => void} [press] pressed without being moved
 * @property {string} [look]
 */

const RADIUS_PX = 11;
const SLACK_PX = 4;

export class Grips {
  /** @param {import('./stage.js').Stage} stage */
  constructor(stage) {
    this.stage = stage;
    this.group = s('g', { class: 'grips' });
    stage.grips.append(this.group);
    /** @type {Map<string, {circle: SVGCircleElement, grip: Grip}>} */
    this.shown = new Map();
    this.held = '';
    stage.addEventListener('scale', () => this.place());
  }

  /** @param {Grip[]} grips */
  show(grips) {
    const ids = new Set(grips.map((grip) => grip.id));
    for (const [id, { circle }] of this.shown) {
      if (ids.has(id)) continue;
      circle.remove();
      this.shown.delete(id);
    }
    for (const grip of grips) {
      const circle = this.shown.get(grip.id)?.circle ?? this.make(grip.id);
      circle.setAttribute('aria-label', grip.label);
      circle.setAttribute('class', `grip ${grip.look ?? ''}`);
      this.shown.set(grip.id, { circle, grip });
    }
    this.place();
  }

  place() {
    for (const { circle, grip } of this.shown.values()) {
      circle.setAttribute('cx', String(grip.spot.x));
      circle.setAttribute('cy', String(-grip.spot.y));
      circle.setAttribute('r', String((grip.look === 'small' ? 7 : RADIUS_PX) * this.stage.px));
    }
  }

  /** @param {string} id */
  make(id) {
    const circle = s('circle', { tabindex: 0, role: 'button', 'data-grip': id });
    this.group.append(circle);
    const grip = () => /** @type {{grip: Grip}} */ (this.shown.get(id)).grip;
    let from = { x: 0, y: 0 };
    let off = { x: 0, y: 0 };
    let moved = false;
    circle.addEventListener('pointerdown', (event) => {
      circle.setPointerCapture(event.pointerId);
      from = this.stage.spot(event);
      off = { x: grip().spot.x - from.x, y: grip().spot.y - from.y };
      this.held = id;
      moved = false;
      event.preventDefault();
      circle.focus();
    });
    circle.addEventListener('pointermove', (event) => {
      if (this.held !== id) return;
      const spot = this.stage.spot(event);
      const far = Math.hypot(spot.x - from.x, spot.y - from.y);
      if (!moved && far < SLACK_PX * this.stage.px) return;
      moved = true;
      grip().move({ x: spot.x + off.x, y: spot.y + off.y }, off);
    });
    const end = () => {
      if (this.held !== id) return;
      this.held = '';
      if (moved) grip().rest();
      else grip().press?.();
    };
    circle.addEventListener('pointerup', end);
    circle.addEventListener('pointercancel', end);
    circle.addEventListener('keydown', (event) => this.key(event, grip()));
    return circle;
  }

  /** @param {KeyboardEvent} event @param {Grip} grip */
  key(event, grip) {
    const step = event.shiftKey ? 100 : 10;
    /** @type {Record<string, [number, number]>} */
    const ways = { ArrowUp: [0, step], ArrowDown: [0, -step], ArrowLeft: [-step, 0], ArrowRight: [step, 0] };
    const way = ways[event.key];
    if (way) {
      event.preventDefault();
      grip.move({ x: grip.spot.x + way[0], y: grip.spot.y + way[1] }, { x: 0, y: 0 });
      grip.rest();
    } else if ((event.key === 'Enter' || event.key === ' ') && grip.press) {
      event.preventDefault();
      grip.press();
    }
  }
}

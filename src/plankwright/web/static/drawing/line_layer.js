/** Lines across the floor: openings between rooms, and expansion breaks. */

import { s } from '../dom.js';

export class LineLayer {
  /** @param {import('./stage.js').Stage} stage */
  constructor(stage) {
    this.group = s('g');
    stage.under.append(this.group);
  }

  /** @param {{openings: any[], breaks: any[]} | null} room */
  show(room) {
    this.group.replaceChildren();
    if (!room) return;
    this.group.append(
      ...(room.openings ?? []).map((line) => lineOf(line, 'meets')),
      ...(room.breaks ?? []).map((line) => lineOf(line, 'breakline')),
    );
  }
}

/** @param {any} line @param {string} look */
function lineOf(line, look) {
  const [x1, y1, x2, y2] = [...line.from, ...line.to];
  return s('line', { x1, y1: -y1, x2, y2: -y2, class: look });
}

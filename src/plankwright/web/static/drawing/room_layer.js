/** The room: walls with names and lengths, fixed things, doors, and what the tape said. */

import { add, s } from '../dom.js';
import { cornerName } from '../steps/tape.js';
import { words } from '../strings.js';
import { boundsOf, pathOf } from './stage.js';

/** @typedef {import('./stage.js').Stage} Stage */

export class RoomLayer {
  /** @param {Stage} stage */
  constructor(stage) {
    this.stage = stage;
    this.ground = s('g');
    this.names = s('g');
    stage.under.append(this.ground);
    stage.marks.append(this.names);
    /** @type {any} */
    this.last = null;
    stage.addEventListener('scale', () => this.last && this.show(this.last));
  }

  /**
   * @param {{room: any, survey: any, chain: {x: number, y: number}[], showLengths: boolean, showTape: boolean, drawn?: boolean}} shown a chain is drawn where there is neither room nor survey
   */
  show(shown) {
    this.last = shown;
    this.ground.replaceChildren();
    this.names.replaceChildren();
    if (shown.room) this.room(shown.room, shown.showLengths);
    else if (shown.survey) this.outline(shown.survey);
    else this.chain(shown.chain);
    if (shown.survey && shown.showTape) this.tape(shown.survey);
  }

  /** @param {any} room @param {boolean} showLengths */
  room(room, showLengths) {
    const path = pathOf(room.outline);
    add(this.ground, s('path', { d: path, class: 'wall-fill', 'fill-rule': 'evenodd' }));
    const things = room.fixed.map((/** @type {any} */ thing) => s('path', { d: pathOf(thing.outline), class: 'fixed' }));
    add(this.ground, s('clipPath', { id: 'inside' }, s('path', { d: path, 'clip-rule': 'evenodd' })));
    add(this.ground, s('g', { 'clip-path': 'url(#inside)' }, things));
    add(this.ground, s('path', { d: path, class: 'wall' }));
    for (const thing of room.fixed) this.thingName(thing);
    for (const door of room.doors) this.door(door, room.walls);
    this.walls(room.walls, showLengths);
  }

  /** The name of a fixed thing, where there is room for it. @param {any} thing */
  thingName(thing) {
    const [x0, y0, x1, y1] = boundsOf(thing.outline);
    const told = thing.name || words.things.kinds[/** @type {'post'} */ (thing.kind)];
    if (x1 - x0 < told.length * 9 * this.stage.px || y1 - y0 < 24 * this.stage.px) return;
    this.text((x0 + x1) / 2, (y0 + y1) / 2, told, 'thing-name');
  }

  /** @param {any[]} walls @param {boolean} showLengths */
  walls(walls, showLengths) {
    const turn = signedArea(walls) >= 0 ? 1 : -1;
    const px = this.stage.px;
    const few = walls.length <= 40;
    walls.forEach((wall, i) => {
      const [ax, ay, bx, by] = [...wall.from, ...wall.to];
      const size = Math.hypot(bx - ax, by - ay) || 1;
      const out = [((by - ay) / size) * turn, (-(bx - ax) / size) * turn];
      if (showLengths && few && size > 45 * px) {
        const at = 20 * px;
        this.text((ax + bx) / 2 + out[0] * at, (ay + by) / 2 + out[1] * at, wall.length, 'dim', bx - ax, by - ay);
      }
      const before = walls[(i + walls.length - 1) % walls.length];
      const name = wall.name.split('-')[0];
      if (few && before.name !== wall.name) {
        const away = awayFrom(before, wall, turn);
        const off = (this.last?.drawn ? 27 : 16) * px; // clear of the corner's grip
        this.text(ax + away[0] * off, ay + away[1] * off, name, 'corner-name');
      }
    });
  }

  /** @param {any} door @param {any[]} walls */
  door(door, walls) {
    const wall = walls.find((w) => w.name === door.edge) ?? walls[0];
    const [ax, ay, bx, by] = [...wall.from, ...wall.to];
    const size = Math.hypot(bx - ax, by - ay) || 1;
    const along = [(bx - ax) / size, (by - ay) / size];
    const at = (/** @type {number} */ d) => ({ x: ax + along[0] * d, y: -(ay + along[1] * d) });
    const [p, q] = [at(door.from_corner_mm), at(door.from_corner_mm + door.width_mm)];
    add(
      this.ground,
      s('line', { x1: p.x, y1: p.y, x2: q.x, y2: q.y, class: 'door' }),
      s('line', { x1: p.x, y1: p.y, x2: q.x, y2: q.y, class: 'doorline' }),
    );
  }

  /** The adjusted walls of a survey that is no room yet. @param {any} survey */
  outline(survey) {
    add(this.ground, s('path', { d: pathOf(survey.outline), class: 'wall open' }));
    for (const corner of survey.corners) this.text(corner.x, corner.y, corner.name, 'corner-name dim');
  }

  /** Walls typed so far, one after the other. @param {{x: number, y: number}[]} chain */
  chain(chain) {
    if (chain.length < 2) return;
    const path = chain.map((spot, i) => `${i ? 'L' : 'M'}${spot.x} ${-spot.y}`).join('');
    add(this.ground, s('path', { d: path, class: 'wall open' }));
    const at = 18 * this.stage.px;
    chain.forEach((spot, i) => {
      const [before, after] = [chain[Math.max(0, i - 1)], chain[Math.min(chain.length - 1, i + 1)]];
      const [dx, dy] = [after.x - before.x, after.y - before.y];
      const size = Math.hypot(dx, dy) || 1;
      this.text(spot.x + (dy / size) * at, spot.y - (dx / size) * at, cornerName(i), 'corner-name');
    });
  }

  /** Diagonals with what is left over, and the measurement to take next. @param {any} survey */
  tape(survey) {
    const places = new Map(survey.corners.map((/** @type {any} */ c) => [c.name, c]));
    for (const length of survey.lengths) {
      const [a, b] = endsOf(length.name, places);
      if (!a || !b || (length.kind === 'wall' && !length.doubtful)) continue;
      const doubtful = length.doubtful ? ' doubtful' : '';
      add(this.ground, s('line', { x1: a.x, y1: -a.y, x2: b.x, y2: -b.y, class: 'diagonal' + doubtful }));
      if (length.kind !== 'tie' || length.doubtful) {
        const told = `${length.measured} ${Math.abs(length.off_mm) >= 0.5 ? `(${length.off_mm > 0 ? '+' : '−'}${length.off})` : ''}`;
        const at = length.kind === 'diagonal' ? 0.36 : 0.5;
        this.text(a.x + (b.x - a.x) * at, a.y + (b.y - a.y) * at, told, 'dim' + doubtful, b.x - a.x, b.y - a.y);
      }
    }
    for (const name of survey.points) this.point(places.get(name), name);
    const next = survey.next[0];
    const [a, b] = next ? [places.get(next.start), places.get(next.end)] : [];
    if (!a || !b) return;
    add(this.names, s('line', { x1: a.x, y1: -a.y, x2: b.x, y2: -b.y, class: 'next' }));
    this.text(a.x + (b.x - a.x) * 0.64, a.y + (b.y - a.y) * 0.64, `${next.name}?`, 'dim nextname', b.x - a.x, b.y - a.y);
  }

  /** A point inside the room. @param {any} spot @param {string} name */
  point({ x, y }, name) {
    add(this.ground, s('circle', { cx: x, cy: -y, r: 4 * this.stage.px, class: 'tiepoint' }));
    this.text(x, y + 14 * this.stage.px, name, 'dim');
  }

  /**
   * @param {number} x
   * @param {number} y
   * @param {string} told
   * @param {string} look
   * @param {number} [dx] the direction along which it is written
   * @param {number} [dy]
   */
  text(x, y, told, look, dx = 1, dy = 0) {
    let angle = (-Math.atan2(dy, dx) * 180) / Math.PI;
    if (angle > 90.5) angle -= 180;
    if (angle <= -89.5) angle += 180;
    const turn = Math.abs(angle) < 0.01 ? null : `rotate(${angle} ${x} ${-y})`;
    add(this.names, s('text', { x, y: -y, class: look, transform: turn }, told));
  }
}

/** The ends of A-C or A-post; of "post from B-C", the point and its foot on the wall. @param {string} name @param {Map<string, any>} places */
function endsOf(name, places) {
  const [point, wall] = name.split(' from ');
  if (!wall) return name.split('-').map((one) => places.get(one));
  const [p, a, b] = [point, ...wall.split('-')].map((one) => places.get(one));
  if (!p || !a || !b) return [];
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const along = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1);
  return [p, { x: a.x + along * dx, y: a.y + along * dy }];
}

/** @param {any[]} walls */
function signedArea(walls) {
  return walls.reduce((sum, w) => sum + w.from[0] * w.to[1] - w.to[0] * w.from[1], 0) / 2;
}

/** @param {any} before @param {any} wall @param {number} turn @returns {[number, number]} */
function awayFrom(before, wall, turn) {
  const unit = (/** @type {any} */ w) => {
    const [dx, dy] = [w.to[0] - w.from[0], w.to[1] - w.from[1]];
    const size = Math.hypot(dx, dy) || 1;
    return [(dy / size) * turn, (-dx / size) * turn];
  };
  const [a, b] = [unit(before), unit(wall)];
  const sum = [a[0] + b[0], a[1] + b[1]];
  const size = Math.hypot(sum[0], sum[1]) || 1;
  return [sum[0] / size, sum[1] / size];
}

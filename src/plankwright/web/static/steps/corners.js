/** The room drawn on screen: corners dragged with snapping, walls typed, corners added and taken out. */

import { h } from '../dom.js';
import { formatLength, typedLength } from '../lengths.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../drawing/grips.js').Grip} Grip */

const w = words.measure;
const SNAP_PX = 9;

/** Begin with a room of a usual size. @param {Bench} bench */
export function startDrawing(bench) {
  const inches = ['in', 'ft'].includes(bench.job.unit);
  const [along, across] = inches ? [14 * 304.8, 11 * 304.8] : [4200, 3400];
  const corners = [[0, 0], [along, 0], [along, across], [0, across]];
  bench.job.change('', (document) => {
    const room = (document.room ??= {});
    for (const key of ['walls', 'corners', 'diagonals', 'angles', 'ties']) delete room[key];
    room.outline = corners.map((corner) => corner.map((mm) => typedLength(mm, bench.job.unit)));
  });
  bench.say(w.drawn);
}

/** Corners of a drawn room [mm], as the server read them. @param {Bench} bench */
function cornersOf(bench) {
  const outline = bench.job.document.room?.outline;
  const lengths = bench.measured?.lengths;
  if (!Array.isArray(outline) || !lengths) return [];
  const spots = outline.map((_, i) => ({
    x: lengths[`room.outline.${i}.0`]?.mm,
    y: lengths[`room.outline.${i}.1`]?.mm,
  }));
  return spots.every((spot) => Number.isFinite(spot.x) && Number.isFinite(spot.y)) ? spots : [];
}

/** @param {Bench} bench @returns {Grip[]} */
export function cornerGrips(bench) {
  const spots = bench.kept.spots ?? cornersOf(bench);
  const walls = bench.measured?.room?.walls ?? [];
  if (!spots.length) return [];
  const corners = spots.map((/** @type {any} */ spot, /** @type {number} */ i) => ({
    id: `corner-${i}`, label: w.dragCorner(String.fromCharCode(65 + i)), spot,
    move: (/** @type {any} */ to) => dragCorner(bench, spots, i, to),
    rest: () => restCorner(bench),
  }));
  const middles = spots.map((/** @type {any} */ spot, /** @type {number} */ i) => {
    const next = spots[(i + 1) % spots.length];
    const middle = { x: (spot.x + next.x) / 2, y: (spot.y + next.y) / 2 };
    return {
      id: `middle-${i}`, look: 'small', label: w.addCorner(walls[i]?.name ?? ''), spot: middle,
      move: (/** @type {any} */ to) => dragWall(bench, spots, i, to, middle),
      rest: () => restCorner(bench),
      press: () => addCorner(bench, spots, i),
    };
  });
  return [...middles, ...corners];
}

/** @param {Bench} bench @param {any[]} spots @param {number} i @param {{x: number, y: number}} to */
function dragCorner(bench, spots, i, to) {
  const moved = spots.slice();
  moved[i] = snapped(bench, moved, i, to);
  showSpots(bench, moved);
}

/** A wall moves as a whole, square to itself. @param {Bench} bench @param {any[]} spots @param {number} i @param {any} to @param {any} middle */
function dragWall(bench, spots, i, to, middle) {
  const [a, b] = [spots[i], spots[(i + 1) % spots.length]];
  const size = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const out = { x: (b.y - a.y) / size, y: -(b.x - a.x) / size };
  const by = (to.x - middle.x) * out.x + (to.y - middle.y) * out.y;
  const moved = spots.slice();
  moved[i] = onTape(bench, { x: a.x + out.x * by, y: a.y + out.y * by });
  moved[(i + 1) % spots.length] = onTape(bench, { x: b.x + out.x * by, y: b.y + out.y * by });
  showSpots(bench, moved);
}

/** Draw the room as it would be, with its lengths; nothing is kept before the hand rests. @param {Bench} bench @param {any[]} spots */
function showSpots(bench, spots) {
  bench.kept.spots = spots;
  const walls = spots.map((spot, i) => {
    const next = spots[(i + 1) % spots.length];
    const length = Math.hypot(next.x - spot.x, next.y - spot.y);
    const name = `${String.fromCharCode(65 + i)}-${String.fromCharCode(65 + ((i + 1) % spots.length))}`;
    return { name, from: [spot.x, spot.y], to: [next.x, next.y], length: formatLength(length, bench.job.unit) };
  });
  const room = { outline: [spots.flatMap((spot) => [spot.x * 10, spot.y * 10])], walls, fixed: [], doors: [] };
  bench.rooms.show({ room, survey: null, chain: [], showLengths: true, showTape: false, drawn: true });
  bench.grips.show(cornerGrips(bench));
}

/** @param {Bench} bench */
function restCorner(bench) {
  const spots = bench.kept.spots;
  bench.kept.spots = null;
  if (spots) keepSpots(bench, spots);
}

/** @param {Bench} bench @param {any[]} spots */
function keepSpots(bench, spots) {
  bench.job.change('', (document) => {
    document.room.outline = spots.map((spot) => [typedLength(spot.x, bench.job.unit), typedLength(spot.y, bench.job.unit)]);
  });
}

/** In line with another corner, or square, where that is near. @param {Bench} bench @param {any[]} spots @param {number} i @param {{x: number, y: number}} to */
function snapped(bench, spots, i, to) {
  const near = SNAP_PX * bench.stage.px;
  let { x, y } = onTape(bench, to);
  for (const [k, other] of spots.entries()) {
    if (k === i) continue;
    if (Math.abs(other.x - to.x) < near) x = other.x;
    if (Math.abs(other.y - to.y) < near) y = other.y;
  }
  return { x, y };
}

/** On the tape's marks: a whole inch or centimeter. @param {Bench} bench @param {{x: number, y: number}} to */
function onTape(bench, to) {
  const mark = ['in', 'ft'].includes(bench.job.unit) ? 25.4 / 2 : 10;
  return { x: Math.round(to.x / mark) * mark, y: Math.round(to.y / mark) * mark };
}

/** @param {Bench} bench @param {any[]} spots @param {number} i */
function addCorner(bench, spots, i) {
  const [a, b] = [spots[i], spots[(i + 1) % spots.length]];
  const corner = onTape(bench, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  const more = [...spots.slice(0, i + 1), corner, ...spots.slice(i + 1)];
  keepSpots(bench, more);
}

/** @param {Bench} bench */
export function drawnFields(bench) {
  const spots = cornersOf(bench);
  const walls = bench.measured?.room?.walls ?? [];
  return [
    h('p', { class: 'pencil' }, w.drawHow),
    ...spots.map((_, i) => h('div', { class: 'wallrow' },
      h('span', { class: 'name' }, walls[i]?.name.replace('-', '–') ?? ''),
      h('input', {
        id: `drawn-${i}`, type: 'text', autocomplete: 'off', 'aria-label': w.wall(walls[i]?.name ?? ''),
        value: walls[i]?.length ?? '',
        onchange: (/** @type {Event} */ event) => setLength(bench, spots, i, /** @type {HTMLInputElement} */ (event.target).value),
      }),
      spots.length > 3 ? h('button', { class: 'word', type: 'button', onclick: () => keepSpots(bench, spots.filter((__, k) => k !== i)) }, w.takeOut(walls[i]?.name.split('-')[0] ?? '')) : null)),
    h('p', {}, h('button', { class: 'word', type: 'button', onclick: () => bench.job.change('', (document) => { delete document.room.outline; }) }, w.typeInstead)),
  ];
}

/** A typed length moves the wall's far corner, and the wall after it with it. @param {Bench} bench @param {any[]} spots @param {number} i @param {string} typed */
async function setLength(bench, spots, i, typed) {
  const read = await bench.readLength(typed);
  if (!read) return;
  const [a, b] = [spots[i], spots[(i + 1) % spots.length]];
  const size = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const by = { x: ((b.x - a.x) / size) * (read - size), y: ((b.y - a.y) / size) * (read - size) };
  const moved = spots.slice();
  for (const k of [i + 1, i + 2]) {
    const at = k % spots.length;
    if (at !== i) moved[at] = { x: spots[at].x + by.x, y: spots[at].y + by.y };
  }
  keepSpots(bench, moved);
}

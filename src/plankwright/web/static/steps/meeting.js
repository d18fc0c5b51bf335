/** Rooms that meet, expansion breaks across the floor, and walls with a gap of their own. */

import { h } from '../dom.js';
import { choice, field, setAt, valueAt } from '../fields.js';
import { formatLength, typedLength } from '../lengths.js';
import { words } from '../strings.js';
import { entries } from './entries.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../drawing/grips.js').Grip} Grip */
/** @typedef {import('../fields.js').Way} Way */

const w = words.meeting;
const USUAL_OPENING_MM = 813;
const USUAL_WALL_MM = 115;
const USUAL_STEM_MM = 8;
const MOST_WALLS = 40;
/** @type {{list: 'opening' | 'break', ends: string[]}[]} */
const LISTS = [{ list: 'opening', ends: w.jambs }, { list: 'break', ends: w.ends }];
const KEYS = ['from', 'to'];

/** @param {Bench} bench */
export function meetingRooms(bench) {
  const fresh = { opening: () => freshOpening(bench), break: () => freshBreak(bench) };
  return h('details', { id: 'meeting' }, h('summary', {}, w.title),
    h('p', { class: 'pencil' }, w.how),
    entries(bench, ['room', 'opening'], titleOf('opening'), w.moreOpening, fresh.opening, (way) => openingFields(bench, way)),
    entries(bench, ['room', 'break'], titleOf('break'), w.moreBreak, fresh.break, (way) => breakFields(bench, way)),
    wallGaps(bench));
}

/** @param {'opening' | 'break'} list @returns {(entry: any, number: number) => string} */
function titleOf(list) {
  const words = { opening: w.openingNumber, break: w.break };
  return (entry, number) => entry.name || words[list](number);
}

/** @param {Bench} bench @param {Way} way */
function openingFields(bench, way) {
  const meets = valueAt(bench.job.document, [...way, 'door']) === false;
  const setDoor = (/** @type {Event} */ event) => {
    const { checked } = /** @type {HTMLInputElement} */ (event.target);
    bench.job.change('', (document) => setAt(document, [...way, 'door'], checked ? false : undefined));
  };
  const id = `f-${way.join('-')}-door`;
  return [
    h('p', { class: 'pencil' }, w.openingHow),
    field(bench, [...way, 'name'], words.things.name, { kind: 'text' }),
    ends(bench, way, w.jambs),
    field(bench, [...way, 'depth'], w.thick, { empty: shown(bench, 0) }),
    h('label', { class: 'tick', for: id }, h('input', { id, type: 'checkbox', checked: meets, onchange: setDoor }), w.open),
    !meets && choice(bench, [...way, 'leaf'], w.leaf, Object.entries(w.leaves), 'middle'),
  ];
}

/** @param {Bench} bench @param {Way} way */
function breakFields(bench, way) {
  return [
    h('p', { class: 'pencil' }, w.breakHow),
    field(bench, [...way, 'name'], words.things.name, { kind: 'text' }),
    ends(bench, way, w.ends),
    h('div', { class: 'two' },
      field(bench, [...way, 'stem'], w.stem, { empty: shown(bench, USUAL_STEM_MM) }),
      field(bench, [...way, 'gap'], w.gap, { empty: w.gapEmpty })),
  ];
}

/** The two ends of a line. @param {Bench} bench @param {Way} way @param {string[]} names */
function ends(bench, way, names) {
  const drawn = Boolean(bench.job.document.room?.outline);
  const [first, second] = drawn ? [w.toRight, w.up] : [w.along, w.into];
  return names.map((name, i) => h('div', { class: 'two' },
    field(bench, [...way, KEYS[i], 0], first(name)),
    field(bench, [...way, KEYS[i], 1], second(name))));
}

/** @param {Bench} bench */
function wallGaps(bench) {
  const names = [...new Set((bench.knownRoom?.walls ?? []).map((/** @type {any} */ wall) => wall.name))];
  if (names.length > MOST_WALLS) return null;
  const usual = bench.job.document.rules?.gap ?? shown(bench, 8);
  return h('details', { id: 'wallgaps' }, h('summary', {}, w.gapsTitle),
    h('p', { class: 'pencil' }, w.gapsHow),
    names.map((name) => field(bench, ['room', 'gaps', name], w.gapAt(name.replace('-', '–')), { empty: String(usual) })));
}

/** @param {Bench} bench @param {number} mm */
function shown(bench, mm) {
  return formatLength(mm, bench.job.unit);
}

/** A door's width across the middle of the drawing. @param {Bench} bench */
function freshOpening(bench) {
  const { x, y } = bench.stage.center;
  const half = USUAL_OPENING_MM / 2;
  return { ...line(bench, [x, y - half], [x, y + half]), depth: typedLength(USUAL_WALL_MM, bench.job.unit) };
}

/** From wall to wall across the longer way of the room. @param {Bench} bench */
function freshBreak(bench) {
  const spots = (bench.measured?.room?.walls ?? []).map((/** @type {any} */ wall) => wall.from);
  const [xs, ys] = [0, 1].map((k) => spots.map((/** @type {number[]} */ spot) => spot[k]));
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
  return x1 - x0 > y1 - y0 ? line(bench, [x, y0], [x, y1]) : line(bench, [x0, y], [x1, y]);
}

/** @param {Bench} bench @param {number[]} from @param {number[]} to */
function line(bench, from, to) {
  const typed = (/** @type {number[]} */ spot) => spot.map((mm) => typedLength(mm, bench.job.unit));
  return { from: typed(from), to: typed(to) };
}

/** The ends of openings and breaks, to take hold of. @param {Bench} bench @returns {Grip[]} */
export function meetingGrips(bench) {
  if (!bench.measured?.room || bench.kept.spots) return [];
  return LISTS.flatMap(({ list, ends: names }) => (bench.job.document.room?.[list] ?? []).flatMap(
    (/** @type {any} */ entry, /** @type {number} */ i) => KEYS.flatMap((key, k) => endGrip(bench, list, i, key, titleOf(list)(entry, i + 1), names[k])),
  ));
}

/** @param {Bench} bench @param {'opening' | 'break'} list @param {number} i @param {string} key @param {string} title @param {string} end @returns {Grip[]} */
function endGrip(bench, list, i, key, title, end) {
  const [x, y] = [0, 1].map((k) => bench.measured.lengths[`room.${list}.${i}.${key}.${k}`]?.mm);
  if (!Number.isFinite(x) || !Number.isFinite(y)) return [];
  return [{
    id: `${list}-${i}-${key}`, label: w.drag(title, end), spot: { x, y }, look: 'small',
    move: (spot) => bench.job.change(`${list}-${i}-${key}`, (document) => {
      document.room[list][i][key] = [typedLength(spot.x, bench.job.unit), typedLength(spot.y, bench.job.unit)];
    }),
    rest: () => bench.job.settle(),
    press: () => { ['meeting', `entry-room-${list}-${i}`].forEach((id) => bench.openDetails.add(id)); bench.fillColumn(); },
  }];
}

/** Fixed things and doors: placed by dragging or by distances. */

import { h } from '../dom.js';
import { choice, field } from '../fields.js';
import { typedLength } from '../lengths.js';
import { words } from '../strings.js';
import { standsAt } from './points.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../drawing/grips.js').Grip} Grip */

const w = words.things;
/** @type {Record<string, number[]>} usual sizes [mm]; one number is a diameter */
const USUAL = { post: [100, 100], pipe: [50], hearth: [1200, 400], stair: [900, 2400], cabinet: [600, 600], drain: [150], hatch: [600, 600], panel: [400, 400], 'toe-kick': [1200, 100], radiator: [1000, 120] };
const HANGING = ['toe-kick', 'radiator'];

/** @param {Bench} bench */
export function fixedThings(bench) {
  const room = bench.job.document.room ?? {};
  return [
    h('h3', {}, w.title),
    ...(room.fixed ?? []).map((/** @type {any} */ thing, /** @type {number} */ i) => fixedFields(bench, thing, i)),
    ...(room.door ?? []).map((/** @type {any} */ door, /** @type {number} */ i) => doorFields(bench, door, i)),
    h('div', { class: 'row' },
      h('label', { class: 'unseen', for: 'newthing' }, w.which),
      h('select', { id: 'newthing', 'data-draft': true }, Object.keys(USUAL).map((kind) => h('option', { value: kind }, w.kinds[/** @type {'post'} */ (kind)]))),
      h('button', { class: 'other', type: 'button', id: 'addthing', onclick: () => addThing(bench) }, w.add),
      h('button', { class: 'other', type: 'button', id: 'adddoor', onclick: () => addDoor(bench) }, w.addDoor)),
  ];
}

/** @param {Bench} bench @param {any} thing @param {number} i */
function fixedFields(bench, thing, i) {
  const way = ['room', 'fixed', i];
  const name = thing.name || w.kinds[/** @type {'post'} */ (thing.kind)] || thing.kind;
  return h('details', { id: `thing-${i}` },
    h('summary', {}, name),
    field(bench, [...way, 'name'], w.name, { kind: 'text' }),
    standsAt(bench, thing, i),
    thing.at && h('div', { class: 'two' },
      field(bench, [...way, 'at', 0], placeWords(bench, thing)[0]),
      field(bench, [...way, 'at', 1], placeWords(bench, thing)[1])),
    thing.size && h('div', { class: 'two' },
      field(bench, [...way, 'size', 0], w.sizeAlong), field(bench, [...way, 'size', 1], w.sizeInto)),
    thing.diameter !== undefined && field(bench, [...way, 'diameter'], w.diameter),
    thing.size && field(bench, [...way, 'turned'], w.turned, { kind: 'number', empty: '0' }),
    HANGING.includes(thing.kind)
      ? field(bench, [...way, 'clearance'], w.clearance, { help: w.clearanceHelp })
      : field(bench, [...way, 'gap'], thing.kind === 'panel' ? w.sawGap : w.ownGap, { empty: thing.kind === 'panel' ? '' : w.asAtWalls }),
    h('button', { class: 'word', type: 'button', onclick: () => takeOut(bench, 'fixed', i) }, w.takeOut));
}

/** From where its place is measured, in words. @param {Bench} bench @param {any} thing */
function placeWords(bench, thing) {
  if (bench.job.document.room?.outline) return [w.toRight, w.up];
  return thing.diameter ? [w.alongMiddle, w.intoMiddle] : [w.along, w.into];
}

/** @param {Bench} bench @param {any} door @param {number} i */
function doorFields(bench, door, i) {
  const way = ['room', 'door', i];
  const walls = (bench.knownRoom?.walls ?? []).map((/** @type {any} */ wall) => wall.name);
  const names = [...new Set([...walls, door.wall])];
  return h('details', { id: `door-${i}` },
    h('summary', {}, door.name || w.door),
    field(bench, [...way, 'name'], w.name, { kind: 'text' }),
    choice(bench, [...way, 'wall'], w.inWall, names.map((name) => [name, name.replace('-', '–')])),
    field(bench, [...way, 'from_corner'], w.fromCorner(String(door.wall).split('-')[0])),
    field(bench, [...way, 'width'], w.width),
    field(bench, [...way, 'depth'], w.depth, { help: w.depthHelp }),
    h('details', { id: `jambs-${i}` }, h('summary', {}, w.jambsTitle),
      h('div', { class: 'two' },
        field(bench, [...way, 'stem'], w.stem, { help: w.stemHelp }),
        field(bench, [...way, 'gap'], w.gap, { empty: w.asAtWalls })),
      h('div', { class: 'two' },
        field(bench, [...way, 'undercut'], w.undercut, { help: w.undercutHelp }),
        field(bench, [...way, 'undercut_height'], w.undercutHeight, { help: w.undercutHeightHelp }))),
    h('button', { class: 'word', type: 'button', onclick: () => takeOut(bench, 'door', i) }, w.takeOut));
}

/** @param {Bench} bench @param {'fixed' | 'door'} list @param {number} i */
function takeOut(bench, list, i) {
  bench.job.change('', (document) => {
    document.room[list].splice(i, 1);
    if (!document.room[list].length) delete document.room[list];
  });
}

/** @param {Bench} bench */
function addThing(bench) {
  const kind = /** @type {HTMLSelectElement} */ (document.getElementById('newthing')).value;
  const { x, y } = bench.stage.center;
  const unit = bench.job.unit;
  const size = USUAL[kind];
  /** @type {any} */
  const thing = { kind, at: [typedLength(x, unit), typedLength(y, unit)] };
  if (size.length === 1) thing.diameter = typedLength(size[0], unit);
  else thing.size = size.map((mm) => typedLength(mm, unit));
  const index = bench.job.document.room?.fixed?.length ?? 0;
  bench.openDetails.add(`thing-${index}`);
  bench.job.change('', (document) => (document.room.fixed ??= []).push(thing));
  bench.say(w.added(w.kinds[/** @type {'post'} */ (kind)]));
}

/** @param {Bench} bench */
function addDoor(bench) {
  const walls = bench.measured?.room?.walls ?? [];
  if (!walls.length) return;
  const wall = [...walls].sort((a, b) => b.length_mm - a.length_mm)[0];
  const unit = bench.job.unit;
  const width = Math.min(813, wall.length_mm * 0.6);
  const door = { wall: wall.name, from_corner: typedLength((wall.length_mm - width) / 2, unit), width: typedLength(width, unit) };
  bench.openDetails.add(`door-${bench.job.document.room?.door?.length ?? 0}`);
  bench.job.change('', (document) => (document.room.door ??= []).push(door));
  bench.say(w.added(w.door));
}

/** @param {Bench} bench @returns {Grip[]} */
export function thingGrips(bench) {
  const room = bench.measured?.room;
  const typed = bench.job.document.room;
  if (!room || bench.kept.spots) return [];
  return [...fixedGrips(bench, room, typed), ...doorGrips(bench, room, typed)];
}

/** @param {Bench} bench @param {any} room @param {any} typed @returns {Grip[]} */
function fixedGrips(bench, room, typed) {
  return (typed.fixed ?? []).flatMap((/** @type {any} */ thing, /** @type {number} */ i) => {
    const drawn = room.fixed[i];
    const at = [0, 1].map((k) => bench.measured.lengths[`room.fixed.${i}.at.${k}`]?.mm);
    if (!drawn || !thing.at || !at.every(Number.isFinite)) return [];
    const ring = drawn.outline[0];
    const spot = middle(ring);
    const off = { x: at[0] - spot.x, y: at[1] - spot.y };
    return [{
      id: `fixed-${i}`, label: w.drag(thing.name || w.kinds[/** @type {'post'} */ (thing.kind)]), spot,
      move: (/** @type {any} */ to) => bench.job.change(`fixed-${i}`, (document) => {
        document.room.fixed[i].at = [typedLength(to.x + off.x, bench.job.unit), typedLength(to.y + off.y, bench.job.unit)];
      }),
      rest: () => bench.job.settle(),
      press: () => { bench.openDetails.add(`thing-${i}`); bench.fillColumn(); },
    }];
  });
}

/** @param {Bench} bench @param {any} room @param {any} typed @returns {Grip[]} */
function doorGrips(bench, room, typed) {
  return room.doors.flatMap((/** @type {any} */ door, /** @type {number} */ i) => {
    const wall = room.walls.find((/** @type {any} */ one) => one.name === door.edge);
    if (!wall || !typed.door?.[i]) return [];
    const [ax, ay, bx, by] = [...wall.from, ...wall.to];
    const along = { x: (bx - ax) / wall.length_mm, y: (by - ay) / wall.length_mm };
    const at = door.from_corner_mm + door.width_mm / 2;
    return [{
      id: `doorgrip-${i}`, label: w.drag(door.name || w.door), spot: { x: ax + along.x * at, y: ay + along.y * at },
      move: (/** @type {any} */ to) => bench.job.change(`door-${i}`, (document) => {
        const begin = (to.x - ax) * along.x + (to.y - ay) * along.y - door.width_mm / 2;
        const within = Math.max(0, Math.min(wall.length_mm - door.width_mm, begin));
        Object.assign(document.room.door[i], { wall: wall.name, from_corner: typedLength(within, bench.job.unit) });
      }),
      rest: () => bench.job.settle(),
      press: () => { bench.openDetails.add(`door-${i}`); bench.fillColumn(); },
    }];
  });
}

/** @param {number[]} ring */
function middle(ring) {
  const xs = ring.filter((_, i) => i % 2 === 0);
  const ys = ring.filter((_, i) => i % 2 === 1);
  return { x: (Math.min(...xs) + Math.max(...xs)) / 20, y: (Math.min(...ys) + Math.max(...ys)) / 20 };
}

/** Points inside the room, such as a post: placed by distances from corners and walls. */

import { h } from '../dom.js';
import { field, placeOf, sentence } from '../fields.js';
import { formatLength, typedLength } from '../lengths.js';
import { words } from '../strings.js';
import { isWallOrCorner } from './tape.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.tying;
const USUAL_SD_MM = 2;
const USUAL_SD_PER_M = '0.3';
const PARTS = [0, 1];

/** @param {Bench} bench */
export function pointsInside(bench) {
  const names = Object.keys(bench.job.document.room?.ties ?? {});
  return h('details', { id: 'points', open: names.length > 0 }, h('summary', {}, w.title),
    h('p', { class: 'pencil' }, w.how),
    names.map((name) => pointFields(bench, name)),
    newPoint(bench));
}

/** @param {Bench} bench @param {string} name */
function pointFields(bench, name) {
  const way = ['room', 'ties', name];
  const taken = bench.job.document.room.ties[name];
  const free = placesOf(bench).filter((place) => place !== name && !(place in taken));
  const refusal = bench.measured?.refusal;
  return h('div', { class: 'entry' },
    h('h4', {}, name),
    Object.keys(taken).map((place) => field(bench, [...way, place], w.from(place))),
    refusal && placeOf(refusal) === way.join('.') && h('p', { class: 'told bad' }, sentence(refusal)),
    free.length > 0 && h('div', { class: 'pairrow' },
      h('select', { id: `place-${name}`, 'data-draft': true, 'aria-label': w.again(name) }, free.map(placeOption)),
      h('input', {
        id: `more-${name}`, type: 'text', autocomplete: 'off', 'aria-label': w.another(name), placeholder: words.measure.newDiagonal,
        onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && addDistance(bench, name),
      }),
      h('button', { class: 'other', type: 'button', onclick: () => addDistance(bench, name) }, w.add)),
    h('button', { class: 'word', type: 'button', onclick: () => takeOut(bench, name) }, w.takeOut(name)));
}

/** @param {string} place */
function placeOption(place) {
  return h('option', { value: place }, w.place(place));
}

/** From where a distance can be measured. @param {Bench} bench @returns {string[]} */
function placesOf(bench) {
  const { corners } = bench.tape;
  const walls = corners.map((corner, i) => `${corner}-${corners[(i + 1) % corners.length]}`);
  return [...corners, ...walls, ...Object.keys(bench.job.document.room?.ties ?? {})];
}

/** @param {Bench} bench @param {string} name */
function addDistance(bench, name) {
  const length = draft(`more-${name}`);
  const place = draft(`place-${name}`);
  if (!length) return;
  clear(`more-${name}`);
  bench.job.change('', (document) => { document.room.ties[name][place] = length; });
  bench.say(w.pointAdded(w.from(place)));
}

/** Written into the job when it can be placed: until then the room stays as it is. @param {Bench} bench */
function newPoint(bench) {
  const places = placesOf(bench);
  const add = () => addPoint(bench);
  const onEnter = (/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && add();
  return h('div', { class: 'entry' },
    bench.job.document.room?.ties && h('h4', {}, w.next),
    h('div', { class: 'field' },
      h('label', { for: 'pointname' }, w.name),
      h('input', { id: 'pointname', type: 'text', autocomplete: 'off', maxlength: 200, placeholder: w.nameExample, onkeydown: onEnter })),
    PARTS.map((i) => h('div', { class: 'two' },
      h('div', { class: 'field' }, h('label', { for: `pointplace-${i}` }, w.which[i]),
        h('select', { id: `pointplace-${i}`, 'data-draft': true }, places.map((place, k) => h('option', { value: place, selected: k === i }, w.place(place))))),
      h('div', { class: 'field' }, h('label', { for: `pointlength-${i}` }, w.length[i]),
        h('input', { id: `pointlength-${i}`, type: 'text', autocomplete: 'off', placeholder: words.measure.newDiagonal, onkeydown: onEnter })))),
    h('span', { class: 'told bad', role: 'status' }, bench.kept.pointTold ?? ''),
    h('p', {}, h('button', { class: 'other', type: 'button', id: 'addpoint', onclick: add }, w.addPoint)));
}

/** @param {Bench} bench */
function addPoint(bench) {
  const name = draft('pointname');
  const places = PARTS.map((i) => draft(`pointplace-${i}`));
  const lengths = PARTS.map((i) => draft(`pointlength-${i}`));
  const ties = bench.job.document.room?.ties ?? {};
  bench.kept.pointTold = '';
  if (!name || !lengths.every(Boolean) || places[0] === places[1]) bench.kept.pointTold = w.needs;
  else if (name in ties || isWallOrCorner(bench.tape, name)) bench.kept.pointTold = w.taken(name);
  if (bench.kept.pointTold) {
    bench.fillColumn();
    return;
  }
  ['pointname', 'pointlength-0', 'pointlength-1'].forEach(clear);
  bench.job.change('', (document) => {
    (document.room.ties ??= {})[name] = { [places[0]]: lengths[0], [places[1]]: lengths[1] };
  });
  bench.say(w.pointAdded(name));
}

/** What was placed by the point stays where it stands. @param {Bench} bench @param {string} name */
function takeOut(bench, name) {
  const spots = (bench.job.document.room?.fixed ?? []).map((/** @type {any} */ thing) => (thing.tie === name ? placeBy(bench, thing) : null));
  bench.job.change('', (document) => {
    const { room } = document;
    delete room.ties[name];
    for (const places of Object.values(room.ties)) delete places[name];
    if (!Object.keys(room.ties).length) delete room.ties;
    spots.forEach((/** @type {string[] | null} */ at, /** @type {number} */ i) => at && stand(room.fixed[i], at));
  });
}

/** Where a thing stands: as typed, or at a point that was measured. @param {Bench} bench @param {any} thing @param {number} i */
export function standsAt(bench, thing, i) {
  const names = Object.keys(bench.job.document.room?.ties ?? {});
  if (!names.length && !thing.tie) return null;
  const known = thing.tie && !names.includes(thing.tie) ? [...names, thing.tie] : names;
  const id = `stands-${i}`;
  const set = (/** @type {string} */ point) => {
    const at = placeBy(bench, thing);
    bench.job.change('', (document) => {
      const one = document.room.fixed[i];
      if (!point) return stand(one, at);
      delete one.at;
      one.tie = point;
    });
  };
  return h('div', { class: 'field' }, h('label', { for: id }, w.stands),
    h('select', { id, onchange: (/** @type {Event} */ event) => set(/** @type {HTMLSelectElement} */ (event.target).value) },
      h('option', { value: '', selected: !thing.tie }, w.byPlace),
      known.map((name) => h('option', { value: name, selected: thing.tie === name }, w.atPoint(name)))));
}

/** @param {any} thing @param {string[]} at */
function stand(thing, at) {
  delete thing.tie;
  thing.at = at;
}

/** The place by which a thing would stand where its point is. @param {Bench} bench @param {any} thing @returns {string[]} */
function placeBy(bench, thing) {
  const { unit } = bench.job;
  const point = bench.measured?.survey?.corners.find((/** @type {any} */ one) => one.name === thing.tie) ?? bench.stage.center;
  const i = bench.job.document.room.fixed.indexOf(thing);
  const half = [0, 1].map((k) => (bench.measured?.lengths[`room.fixed.${i}.size.${k}`]?.mm ?? 0) / 2);
  return [typedLength(point.x - half[0], unit), typedLength(point.y - half[1], unit)];
}

/** @param {Bench} bench */
export function tapeAccuracy(bench) {
  return h('details', { id: 'tape' }, h('summary', {}, w.tapeTitle),
    h('p', { class: 'pencil' }, w.tapeHow),
    h('div', { class: 'two' },
      field(bench, ['room', 'tape', 'sd'], w.sd, { empty: formatLength(USUAL_SD_MM, bench.job.unit) }),
      field(bench, ['room', 'tape', 'sd_per_m'], w.sdPerM, { kind: 'number', empty: USUAL_SD_PER_M })));
}

/** What stands in a field that is no part of the job yet. @param {string} id */
function draft(id) {
  return /** @type {HTMLInputElement | null} */ (document.getElementById(id))?.value.trim() ?? '';
}

/** @param {string} id */
function clear(id) {
  const input = /** @type {HTMLInputElement | null} */ (document.getElementById(id));
  if (input) input.value = '';
}

/** Check the slab: what is known of slab, air and house; the advice, in order of work. */

import { asked } from '../asked.js';
import { h } from '../dom.js';
import { checks, choice, field, sentence, tick } from '../fields.js';
import { fetchAndSave } from '../save.js';
import { words } from '../strings.js';
import { entries } from './entries.js';
import { heightFields } from './heights.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.slab;
/** @type {[string, string][]} */
const KINDS = [['humidity probe', w.kinds.probe], ['calcium chloride', w.kinds.dish], ['surface hygrometer', w.kinds.hygrometer], ['carbide', w.kinds.carbide], ['plastic sheet', w.kinds.sheet]];
/** @type {[string, string][]} */
const DOOR_KINDS = /** @type {any} */ (Object.entries(w.doorKinds));
/** @type {[string, string][]} */
const ANSWERS = [['unknown', w.unknown], ['no', w.no], ['yes', w.yes]];

/** @type {import('../bench.js').Step} */
export const slab = {
  key: 'slab',
  brief: (bench) => (bench.job.document.slab ? (w.briefs[/** @type {'go'} */ (asked(bench, '/api/slab').value?.verdict)] ?? '') : ''),
  view,
  enter: (bench) => {
    if (bench.measured?.room) asked(bench, '/api/slab').want();
  },
  draw: (bench) => {
    const report = asked(bench, '/api/slab').value;
    if (report?.has_map && !bench.kept.mapSeen) {
      bench.kept.mapSeen = true;
      bench.sheet.show('/api/slab/map', w.map);
    }
  },
};

/** @param {Bench} bench */
function view(bench) {
  if (!bench.measured?.room) return [h('p', {}, words.needsRoom), bench.onward('measure')];
  const { value: report, refusal, waiting, told } = asked(bench, '/api/slab');
  return [
    h('p', {}, w.how),
    h('p', { class: 'pencil', role: 'status' }, waiting ? told || w.judging : ''),
    h('h3', {}, w.seen),
    ...Object.entries(w.history).map(([key, label]) => tick(bench, ['slab', 'history', key], label)),
    h('details', { id: 'slab-air' }, h('summary', {}, w.airTitle), airFields(bench)),
    h('details', { id: 'slab-readings' }, h('summary', {}, w.readingsTitle), readingFields(bench)),
    h('details', { id: 'slab-heights' }, h('summary', {}, w.flatTitle), heightFields(bench)),
    h('details', { id: 'slab-doors' }, h('summary', {}, w.doorsTitle), doorFields(bench)),
    h('details', { id: 'slab-house' }, h('summary', {}, w.houseTitle), houseFields(bench)),
    refusal && h('div', { class: 'check' }, h('b', {}, words.checkThis), ` (${refusal.where}): ${sentence(refusal)}`),
    report && advice(bench, report),
    bench.onward('board'),
  ];
}

/** @param {Bench} bench @param {any} report */
function advice(bench, report) {
  return [
    h('h3', {}, w.adviceTitle),
    ...report.advice.map((/** @type {string} */ line, /** @type {number} */ i) => h('p', { class: i ? '' : 'verdict' }, line)),
    ...checks(report.sections.flatMap((/** @type {any} */ section) => section.findings)),
    h('h3', {}, w.stepsTitle),
    h('ol', { class: 'steps' }, report.steps.map((/** @type {any} */ step) => h('li', {}, step.text, step.after.length > 0 && h('span', { class: 'pencil' }, ` ${w.after(step.after)}`)))),
    h('div', { class: 'row' },
      report.has_map && h('button', { class: 'other', type: 'button', onclick: () => bench.sheet.show('/api/slab/map', w.map) }, w.showMap),
      report.reminders.length > 0 && h('button', { class: 'other', type: 'button', onclick: () => fetchAndSave(bench, '/api/slab/reminders', '.ics') }, w.reminders)),
    h('details', { id: 'slab-why' }, h('summary', {}, w.why), report.sections.map((/** @type {any} */ section) => section.lines.length > 0 && [
      h('h3', {}, section.title), ...section.lines.map((/** @type {string} */ line) => h('p', { class: 'pencil' }, line))])),
  ];
}

/** @param {Bench} bench */
function airFields(bench) {
  return [
    h('div', { class: 'two' },
      field(bench, ['slab', 'temperature'], w.slabTemperature, { kind: 'text', help: w.coldest }),
      field(bench, ['air', 'temperature'], w.airTemperature, { kind: 'text' })),
    h('div', { class: 'two' },
      field(bench, ['air', 'humidity'], w.humidity, { kind: 'number' }),
      field(bench, ['slab', 'thickness'], w.thickness)),
    h('div', { class: 'two' },
      field(bench, ['air', 'outside_temperature'], w.outside, { kind: 'text' }),
      field(bench, ['air', 'outside_humidity'], w.outsideHumidity, { kind: 'number' })),
    choice(bench, ['slab', 'barrier_below'], w.barrierBelow, ANSWERS),
    tick(bench, ['slab', 'painted'], w.painted),
    tick(bench, ['slab', 'leveled'], w.leveled),
  ];
}

/** @param {Bench} bench */
function readingFields(bench) {
  return [
    entries(bench, ['slab', 'reading'], w.reading, w.addReading, () => ({ kind: 'humidity probe', place: '', on: today() }), (way) => [
      choice(bench, [...way, 'kind'], w.testKind, KINDS),
      field(bench, [...way, 'place'], w.place, { kind: 'text' }),
      h('div', { class: 'two' }, field(bench, [...way, 'on'], w.on, { kind: 'date' }), field(bench, [...way, 'value'], w.value, { kind: 'number' })),
      h('div', { class: 'two' }, field(bench, [...way, 'depth'], w.depth), field(bench, [...way, 'waited'], w.waited, { kind: 'number' })),
    ]),
    entries(bench, ['slab', 'limit'], w.limit, w.addLimit, () => ({ kind: 'humidity probe', highest: 75 }), (way) => [
      choice(bench, [...way, 'kind'], w.testKind, KINDS),
      h('div', { class: 'two' }, field(bench, [...way, 'highest'], w.highest, { kind: 'number' }), field(bench, [...way, 'with_barrier'], w.withBarrier, { kind: 'number' })),
      field(bench, [...way, 'page'], w.page, { kind: 'text' }),
    ]),
    field(bench, ['slab', 'film', 'perms'], w.perms, { kind: 'number' }),
    tick(bench, ['slab', 'film', 'required'], w.required),
    tick(bench, ['slab', 'film', 'attached'], w.attached),
  ];
}

/** @param {Bench} bench */
function doorFields(bench) {
  return [
    h('div', { class: 'two' },
      field(bench, ['slab', 'layers', 'pad'], w.pad), field(bench, ['slab', 'layers', 'film'], w.film)),
    entries(bench, ['slab', 'door'], w.door, w.addDoor, () => ({ name: '', kind: 'door' }), (way) => [
      field(bench, [...way, 'name'], w.doorName, { kind: 'text' }),
      choice(bench, [...way, 'kind'], w.doorKind, DOOR_KINDS),
      h('div', { class: 'two' }, field(bench, [...way, 'under_leaf'], w.underLeaf), field(bench, [...way, 'beyond'], w.beyond)),
      h('div', { class: 'two' }, field(bench, [...way, 'riser'], w.riser), field(bench, [...way, 'others'], w.others)),
    ]),
  ];
}

/** @param {Bench} bench */
function houseFields(bench) {
  return [
    h('p', { class: 'pencil' }, w.houseWhy),
    field(bench, ['slab', 'house', 'year'], w.year, { kind: 'number' }),
    choice(bench, ['slab', 'house', 'old_tile'], w.oldTile, ANSWERS),
    choice(bench, ['slab', 'house', 'black_mastic'], w.mastic, ANSWERS),
    choice(bench, ['slab', 'house', 'old_paint'], w.oldPaint, ANSWERS),
    choice(bench, ['slab', 'house', 'in_slab'], w.inSlab, ANSWERS),
  ];
}

function today() {
  const now = new Date();
  const two = (/** @type {number} */ n) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

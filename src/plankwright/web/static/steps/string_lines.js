/** Walls that are not straight: a string from corner to corner, and what it shows. */

import { h } from '../dom.js';
import { field } from '../fields.js';
import { formatLength, typedLength } from '../lengths.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.bowed;

/** @param {Bench} bench */
export function stringLines(bench) {
  const lines = bench.job.document.room?.string_lines ?? {};
  const names = Object.keys(lines);
  const walls = [...new Set((bench.knownRoom?.walls ?? []).map((/** @type {any} */ wall) => wall.name))].filter((name) => !names.includes(name));
  return h('details', { id: 'stringlines', open: names.length > 0 }, h('summary', {}, w.title),
    h('p', { class: 'pencil' }, w.how),
    names.map((name) => lineFields(bench, name, lines[name])),
    walls.length > 0 && h('div', { class: 'row' },
      h('label', { for: 'newstring' }, w.which),
      h('select', { id: 'newstring', 'data-draft': true }, walls.map((name) => h('option', { value: name }, name.replace('-', '–')))),
      h('button', { class: 'other', type: 'button', id: 'addstring', onclick: () => addLine(bench) }, w.add)));
}

/** @param {Bench} bench @param {string} name @param {any} line */
function lineFields(bench, name, line) {
  const way = ['room', 'string_lines', name];
  const first = name.split('-')[0];
  const change = (/** @type {(line: any) => void} */ what) => bench.job.change('', (document) => what(document.room.string_lines[name]));
  return h('div', { class: 'entry' },
    h('h4', {}, w.wall(name.replace('-', '–'))),
    field(bench, [...way, 'block'], w.block, { empty: formatLength(0, bench.job.unit) }),
    line.offsets.map((/** @type {any} */ _, /** @type {number} */ i) => h('div', { class: 'two' },
      field(bench, [...way, 'offsets', i, 0], w.along(first)), field(bench, [...way, 'offsets', i, 1], w.gap))),
    h('div', { class: 'row' },
      h('button', { class: 'word', type: 'button', onclick: () => change((one) => one.offsets.push(nextPlace(bench, name, one))) }, w.more),
      line.offsets.length > 1 && h('button', { class: 'word', type: 'button', onclick: () => change((one) => one.offsets.pop()) }, w.less),
      h('button', {
        class: 'word', type: 'button',
        onclick: () => bench.job.change('', (document) => {
          delete document.room.string_lines[name];
          if (!Object.keys(document.room.string_lines).length) delete document.room.string_lines;
        }),
      }, w.takeOut)));
}

/** Half way from the last place to the wall's end, with no bow yet. @param {Bench} bench @param {string} name @param {any} line */
function nextPlace(bench, name, line) {
  const last = bench.measured?.lengths[`room.string_lines.${name}.offsets.${line.offsets.length - 1}.0`]?.mm ?? 0;
  return [typedLength((last + lengthOf(bench, name)) / 2, bench.job.unit), line.block ?? typedLength(0, bench.job.unit)];
}

/** Length of a wall [mm]; 0 when there is none of that name. @param {Bench} bench @param {string} name @returns {number} */
function lengthOf(bench, name) {
  const parts = (bench.knownRoom?.walls ?? []).filter((/** @type {any} */ one) => one.name === name);
  return parts.reduce((/** @type {number} */ sum, /** @type {any} */ one) => sum + one.length_mm, 0);
}

/** Begin in the middle of the wall, where a bow is largest. @param {Bench} bench */
function addLine(bench) {
  const name = /** @type {HTMLSelectElement} */ (document.getElementById('newstring')).value;
  const { unit } = bench.job;
  const block = ['in', 'ft'].includes(unit) ? 25.4 : 25;
  bench.job.change('', (document) => {
    (document.room.string_lines ??= {})[name] = {
      block: typedLength(block, unit), offsets: [[typedLength(lengthOf(bench, name) / 2, unit), typedLength(block, unit)]],
    };
  });
  bench.say(w.added(name));
}

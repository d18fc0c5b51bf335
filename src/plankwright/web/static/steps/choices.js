/** The choices side by side: each a small drawing with its figures and its reason; the chart. */

import { asked } from '../asked.js';
import { h, s } from '../dom.js';
import { readPicture } from '../drawing/picture.js';
import { boundsOf, pathOf } from '../drawing/stage.js';
import { sentence } from '../fields.js';
import { words } from '../strings.js';
import { chart } from './chart.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.choices;
/** What a choice decides; all other wishes stay. */
const DECIDED = ['row_angle', 'start_wall', 'first_row', 'laid', 'prefer', 'spend_boards'];

/** @param {Bench} bench */
export function choices(bench) {
  const answer = asked(bench, '/api/choices');
  if (!answer.value && !answer.waiting) {
    return h('p', {}, h('button', { class: 'other', type: 'button', id: 'showchoices', onclick: () => ask(bench) }, w.show));
  }
  return [
    h('h3', {}, w.title),
    answer.waiting && h('p', { class: 'pencil', role: 'status' }, w.looking),
    answer.refusal && h('p', { class: 'crayon' }, sentence(answer.refusal)),
    answer.value && h('ul', { class: 'choices', id: 'choices' }, answer.value.choices.map((/** @type {any} */ choice) => choiceOf(bench, choice))),
    answer.value && refused(answer.value.refused),
    answer.value && chart(bench, answer.value.chart),
    answer.value && !answer.waiting && h('button', { class: 'word', type: 'button', onclick: () => ask(bench) }, w.again),
  ];
}

/** Plans that did not pass their own check. @param {string[]} reasons */
function refused(reasons) {
  if (!reasons.length) return null;
  return h('div', { class: 'check', id: 'refusedplans' }, h('b', {}, words.checkThis), `: ${w.refused(reasons.length)}`,
    h('details', { id: 'refusedplans-why' }, h('summary', {}, w.refusedWhy), h('ul', {}, reasons.map((reason) => h('li', {}, reason)))));
}

/** @param {Bench} bench */
function ask(bench) {
  asked(bench, '/api/choices').want(String(Date.now()));
  bench.fillColumn();
}

/** @param {Bench} bench @param {any} choice */
function choiceOf(bench, choice) {
  const laying = bench.job.document.laying ?? {};
  const isTaken = DECIDED.every((key) => laying[key] === choice.laying[key]);
  return h('li', { class: isTaken ? 'taken' : '' },
    thumbnail(choice.picture),
    h('div', {},
      h('b', {}, choice.title),
      h('p', {}, choice.reason),
      h('p', { class: 'pencil' }, w.figures(choice)),
      h('p', { class: 'pencil' }, w.proof(choice)),
      isTaken ? h('p', {}, h('b', {}, w.taken)) : h('button', { class: 'other', type: 'button', onclick: () => take(bench, choice) }, w.take(choice.number))));
}

/** @param {Bench} bench @param {any} choice */
function take(bench, choice) {
  bench.job.change('', (document) => {
    const laying = (document.laying ??= {});
    for (const key of DECIDED) delete laying[key];
    Object.assign(laying, choice.laying);
  });
  bench.say(w.isTaken(choice.title));
}

/** A plan small: its pieces with their hatches. @param {any} raw */
export function thumbnail(raw) {
  const picture = readPicture(raw);
  const rings = picture.floor.flat();
  const [x0, y0, x1, y1] = boundsOf(rings);
  const scale = Math.max(x1 - x0, y1 - y0) / 130;
  return s('svg', { class: 'thumb', viewBox: `${x0} ${-y1} ${x1 - x0} ${y1 - y0}`, 'aria-hidden': 'true' },
    s('g', { 'stroke-width': scale * 0.6 }, ['whole', 'starter', 'end-piece', 'wall-to-wall'].map((kind) => s('path', {
      class: `small ${kind}`, d: picture.pieces.filter((piece) => piece.kind === kind).map((piece) => pathOf(piece.rings)).join(''),
    }))),
    s('path', { class: 'smallfloor', d: rings.map((ring) => pathOf([ring])).join(''), 'stroke-width': scale * 2 }));
}

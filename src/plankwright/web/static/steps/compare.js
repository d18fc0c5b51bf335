/** Two plans compared: one laid aside, and the one that is shown now. */

import { h } from '../dom.js';
import { words } from '../strings.js';
import { thumbnail } from './choices.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.compare;
/** @type {[string, (figures: any) => string | number][]} */
const ROWS = [
  [w.boards, (f) => f.boards], [w.packs, (f) => f.packs], [w.narrowest, (f) => f.narrowest_row ?? '–'],
  [w.shortest, (f) => f.shortest_piece ?? '–'], [w.joints, (f) => f.joint_offset ?? '–'], [w.hJoints, (f) => f.h_joints], [w.stairs, (f) => f.stairs], [w.cuts, (f) => f.cut_pieces],
  [w.rips, (f) => f.rips ?? '–'], [w.over, (f) => `${f.waste_pct} %`],
];

/** @param {Bench} bench */
export function compare(bench) {
  const aside = bench.kept.aside;
  const { planner } = bench;
  if (!aside) {
    return h('p', {}, h('button', { class: 'word', type: 'button', id: 'layaside', onclick: () => {
      bench.kept.aside = { raw: planner.raw, laying: structuredClone(bench.job.document.laying) };
      bench.fillColumn();
    } }, w.layAside));
  }
  const [then, now] = [aside.raw.figures, /** @type {any} */ (bench.picture).figures];
  return [
    h('h3', {}, w.title),
    h('table', { id: 'compare' },
      h('thead', {}, h('tr', {}, h('td', {}, thumbnail(aside.raw)), h('th', { class: 'number', scope: 'col' }, w.then), h('th', { class: 'number', scope: 'col' }, w.now))),
      h('tbody', {}, ROWS.map(([name, figure]) => h('tr', {}, h('th', { scope: 'row' }, name),
        h('td', { class: 'number' }, figure(then)), h('td', { class: 'number' }, figure(now)))))),
    h('div', { class: 'row' },
      h('button', { class: 'other', type: 'button', onclick: () => bench.job.change('', (document) => {
        if (aside.laying) document.laying = structuredClone(aside.laying);
        else delete document.laying;
      }) }, w.goBack),
      h('button', { class: 'word', type: 'button', onclick: () => { bench.kept.aside = null; bench.fillColumn(); } }, w.forget)),
  ];
}

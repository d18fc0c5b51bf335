/** Keep and tell: the record with photographs, the how-to, and everything on paper. */

import { h } from '../dom.js';
import { words } from '../strings.js';
import { howTo } from './how_to.js';
import { photographs } from './photographs.js';
import { sheets } from './sheets.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.tell;

/** @type {import('../bench.js').Step} */
export const tell = {
  key: 'tell',
  brief: () => '',
  view,
};

/** @param {Bench} bench */
function view(bench) {
  if (!bench.measured?.room) return [h('p', {}, words.needsRoom), bench.onward('measure')];
  return [
    h('h3', {}, w.howToTitle),
    howTo(bench),
    h('h3', {}, w.recordTitle),
    bench.day.begun ? [record(bench), photographs(bench)] : h('p', { class: 'pencil' }, w.noRecord),
    h('h3', {}, w.paperTitle),
    sheets(bench),
  ];
}

/** What was laid, what went wrong, what was noted. @param {Bench} bench */
function record(bench) {
  const { state, cards } = bench.day;
  const spoiled = [...state.spoiled.values()].reduce((sum, n) => sum + n, 0);
  const taken = [...state.packs.values()].reduce((sum, pack) => sum + pack.taken, 0);
  const planned = /** @type {any} */ (bench.day.picture).figures.boards;
  const notes = [...state.notes.values()];
  return [
    h('table', {}, h('tbody', {},
      [[w.lie, `${state.laid.size} / ${cards.length}`], [w.boards, `${taken} / ${planned}`], [w.spoiled, spoiled], [w.onShelf, state.shelf.size]]
        .map(([name, figure]) => h('tr', {}, h('th', { scope: 'row' }, name), h('td', { class: 'number' }, figure))))),
    notes.length > 0 && h('ul', {}, notes.map(([where, text]) => h('li', {}, where && h('b', {}, `${where}: `), text))),
  ];
}

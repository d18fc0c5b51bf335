/** Trim: every gap covered, stock lengths cut well, fixed to the wall and never to the floor. */

import { asked } from '../asked.js';
import { h } from '../dom.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.trim;

/** @type {import('../bench.js').Step} */
export const trim = {
  key: 'trim',
  brief: (bench) => {
    const sticks = asked(bench, '/api/buy').value?.trim.sticks;
    return sticks ? w.brief(sticks.length) : '';
  },
  view,
  enter: (bench) => {
    if (bench.measured?.room) asked(bench, '/api/buy').want(bench.planner.state);
  },
  draw: (bench) => {
    if (asked(bench, '/api/buy').value?.drawings.includes('trim') && !bench.kept.trimSeen) {
      bench.kept.trimSeen = true;
      bench.sheet.show('/api/buy/drawing/trim', w.drawing);
    }
  },
};

/** @param {Bench} bench */
function view(bench) {
  if (!bench.measured?.room) return [h('p', {}, words.needsRoom), bench.onward('measure')];
  const list = asked(bench, '/api/buy').value;
  return [
    h('p', {}, w.how),
    h('div', { class: 'check' }, h('b', {}, w.careTitle), w.care.map((line) => h('p', {}, line))),
    !list && h('p', { class: 'pencil', role: 'status' }, words.buy.working),
    list && [
      h('h3', {}, w.sticks),
      h('table', {}, h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, w.stick), h('th', { scope: 'col' }, w.pieces))),
        h('tbody', {}, list.trim.sticks.map((/** @type {any} */ stick) => h('tr', {}, h('td', {}, stick.length), h('td', {}, stick.pieces.join(', ')))))),
      list.trim.is_least && h('p', { class: 'pencil' }, w.least),
      h('details', { id: 'trim-pieces' }, h('summary', {}, w.each), h('table', {},
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, w.number), h('th', { scope: 'col' }, w.wall), h('th', { class: 'number', scope: 'col' }, w.length), h('th', { scope: 'col' }, w.ends))),
        h('tbody', {}, list.trim.pieces.map((/** @type {any} */ piece) => h('tr', {}, h('td', {}, piece.label), h('td', {}, piece.where),
          h('td', { class: 'number' }, piece.length), h('td', {}, piece.left === piece.right ? piece.left : `${piece.left}, ${piece.right}`)))))),
      h('p', {}, h('button', { class: 'other', type: 'button', onclick: () => bench.sheet.show('/api/buy/drawing/trim', w.drawing) }, w.show)),
    ],
    bench.onward('tell'),
  ];
}

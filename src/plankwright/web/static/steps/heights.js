/** Heights of the slab: a grid typed as rows, or gaps under a straightedge. */

import { h } from '../dom.js';
import { choice, field } from '../fields.js';
import { formatLength } from '../lengths.js';
import { words } from '../strings.js';
import { entries } from './entries.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.slab;

/** @param {Bench} bench */
export function heightFields(bench) {
  const heights = bench.job.document.slab?.heights;
  return [
    h('p', { class: 'pencil' }, w.flatHow),
    h('div', { class: 'two' },
      field(bench, ['slab', 'flatness', 'gap'], w.largestGap, { empty: formatLength(3, bench.job.unit) }),
      field(bench, ['slab', 'flatness', 'edge'], w.under, { empty: formatLength(2000, bench.job.unit) })),
    entries(bench, ['slab', 'gap'], w.gapEntry, w.addGap, () => ({ place: '', ...(inInches(bench) ? { edge: '6 ft', gap: '0 in' } : { edge: '2 m', gap: '0 mm' }) }), (way) => [
      field(bench, [...way, 'place'], w.place, { kind: 'text' }),
      h('div', { class: 'two' }, field(bench, [...way, 'edge'], w.edge), field(bench, [...way, 'gap'], w.gap)),
    ]),
    h('div', { class: 'field' },
      h('label', { for: 'heights' }, w.heights),
      h('textarea', {
        id: 'heights', rows: 5, 'aria-describedby': 'heights-told', spellcheck: 'false',
        value: (heights?.rows ?? []).map((/** @type {any[]} */ row) => row.map((one) => (one === '' ? '-' : one)).join(', ')).join('\n'),
        onchange: (/** @type {Event} */ event) => setRows(bench, /** @type {HTMLTextAreaElement} */ (event.target).value),
      }),
      h('span', { class: 'told', id: 'heights-told' }, w.heightsHelp)),
    heights && h('div', { class: 'two' },
      field(bench, ['slab', 'heights', 'step', 0], w.stepAlong), field(bench, ['slab', 'heights', 'step', 1], w.stepInto)),
    heights && choice(bench, ['slab', 'heights', 'counted'], w.counted, [['up', w.up], ['down', w.down]]),
  ];
}

/** @param {Bench} bench */
function inInches(bench) {
  return ['in', 'ft'].includes(bench.job.unit);
}

/** @param {Bench} bench @param {string} typed */
function setRows(bench, typed) {
  const rows = typed.split('\n').map((line) => line.trim()).filter(Boolean)
    .map((line) => line.split(/[,\t;]/).map((one) => (one.trim() === '-' ? '' : one.trim())));
  bench.job.change('', (document) => {
    const slab = (document.slab ??= {});
    if (!rows.length) delete slab.heights;
    else slab.heights = { step: inInches(bench) ? ['24 in', '24 in'] : ['500 mm', '500 mm'], counted: 'down', ...slab.heights, rows };
  });
}

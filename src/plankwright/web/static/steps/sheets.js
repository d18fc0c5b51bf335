/** Everything on paper: sheets one by one or all at once, drawings and files for other programs. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { RefusedError, call } from '../net.js';
import { follow } from '../progress.js';
import { fetchAndSave, fileName, saveAs } from '../save.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.tell;
/** @type {[keyof typeof w.sheets, string][]} */
const SHEETS = /** @type {any} */ (Object.entries(w.sheets));

/** @param {Bench} bench */
export function sheets(bench) {
  const { printing, printRefusal } = bench.kept;
  const inches = ['in', 'ft'].includes(bench.job.unit);
  const paper = (bench.kept.paper ??= inches ? 'Letter' : 'A4');
  return [
    h('div', { class: 'field' }, h('label', { for: 'paper' }, w.paper), h('select', {
      id: 'paper', onchange: (/** @type {Event} */ event) => { bench.kept.paper = /** @type {HTMLSelectElement} */ (event.target).value; },
    }, ['A4', 'Letter'].map((name) => h('option', { value: name, selected: name === paper }, name)))),
    h('div', { class: 'row' },
      h('button', { class: 'other', type: 'button', id: 'allsheets', disabled: Boolean(printing), onclick: () => print(bench, '') }, printing === 'all' ? w.printing(bench.kept.printTold ?? '') : w.all),
      h('button', { class: 'other', type: 'button', onclick: () => window.print() }, w.thisPage)),
    printing && h('p', { role: 'status' }, w.printing(bench.kept.printTold ?? ''), ' ', h('button', { class: 'word', type: 'button', onclick: () => bench.kept.cancelPrint?.() }, w.cancel)),
    printRefusal && h('p', { class: 'crayon' }, sentence(printRefusal)),
    h('ul', { class: 'joblist' }, SHEETS.map(([name, told]) => h('li', {}, h('span', { class: 'open' }, told),
      h('button', { class: 'word', type: 'button', 'aria-label': w.printOf(told), disabled: Boolean(printing), onclick: () => print(bench, name) }, w.pdf)))),
    h('h3', {}, w.filesTitle),
    h('div', { class: 'row' },
      h('button', { class: 'word', type: 'button', onclick: () => fetchAndSave(bench, '/api/plan-file', '-plan.json') }, w.planFile),
      h('button', { class: 'word', type: 'button', onclick: () => fetchAndSave(bench, '/api/plan-drawing', '-plan.svg') }, w.svg),
      h('button', { class: 'word', type: 'button', onclick: () => fetchAndSave(bench, '/api/plan-dxf', '-plan.dxf') }, w.dxf),
      h('a', { class: 'word', href: `/api/jobs/${bench.job.id}/file`, download: true }, w.jobFile),
      h('a', { class: 'word', href: `/api/jobs/${bench.job.id}/whole`, download: true }, w.everything)),
  ];
}

/** @param {Bench} bench @param {string} name */
async function print(bench, name) {
  const { kept } = bench;
  Object.assign(kept, { printing: name || 'all', printRefusal: null, printTold: '' });
  bench.fillColumn();
  const over = (/** @type {any} */ refusal) => {
    Object.assign(kept, { printing: '', printRefusal: refusal });
    bench.fillColumn();
  };
  try {
    const work = await call('POST', `/api/sheets${name ? `/${name}` : ''}`, { document: bench.job.document, paper: kept.paper });
    const leave = follow(work.id, {
      asFile: true,
      told: (shown) => { kept.printTold = shown.told; bench.fillColumn(); },
      done: (blob) => { saveAs(blob, fileName(bench, name ? `-${name}.pdf` : '-sheets.zip')); over(null); },
      failed: over,
    });
    kept.cancelPrint = () => { leave(); call('DELETE', `/api/work/${work.id}`).catch(() => {}); over(null); };
  } catch (error) {
    over(error instanceof RefusedError ? error.refusal : { message: words.noNetwork, remedy: '' });
  }
}

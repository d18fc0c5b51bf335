/** The how-to: written from the job, shown before it is given out; household details are left out. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { RefusedError, call } from '../net.js';
import { follow } from '../progress.js';
import { fileName, saveAs } from '../save.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.tell;
/** @type {['name' | 'prices' | 'notes', string][]} */
const WANTED = [['name', w.withName], ['prices', w.withPrices], ['notes', w.withNotes]];

/** @param {Bench} bench */
export function howTo(bench) {
  const wanted = (bench.kept.wanted ??= {});
  const { howTo: made, howToBusy: busy } = bench.kept;
  return [
    h('p', {}, w.howTo),
    WANTED.map(([key, label]) => h('label', { class: 'tick' }, h('input', {
      type: 'checkbox', id: `want-${key}`, checked: wanted[key] === true,
      onchange: (/** @type {Event} */ event) => { wanted[key] = /** @type {HTMLInputElement} */ (event.target).checked; },
    }), label)),
    h('button', { class: 'main', type: 'button', id: 'writehowto', disabled: Boolean(busy), onclick: () => write(bench) }, busy ? w.writing : w.write),
    bench.kept.howToRefusal && h('p', { class: 'crayon' }, sentence(bench.kept.howToRefusal)),
    made && h('iframe', { class: 'preview', id: 'preview', title: w.preview, sandbox: '', src: made.url }),
    made && h('div', { class: 'row' },
      h('button', { class: 'other', type: 'button', id: 'savehowto', onclick: () => saveAs(made.blob, fileName(bench, '-how-to.html')) }, w.savePage),
      h('button', { class: 'other', type: 'button', onclick: () => saveFolder(bench) }, w.saveFolder)),
  ];
}

/** @param {Bench} bench @param {string} path @param {(result: any, work: string) => void} done @param {boolean} asFile */
async function ask(bench, path, done, asFile) {
  const { kept } = bench;
  Object.assign(kept, { howToBusy: true, howToRefusal: null });
  bench.fillColumn();
  const over = (/** @type {any} */ refusal) => {
    Object.assign(kept, { howToBusy: false, howToRefusal: refusal });
    bench.fillColumn();
  };
  try {
    const work = await call('POST', `/api/jobs/${bench.job.id}/${path}`, kept.wanted);
    follow(work.id, { told: () => {}, asFile, done: (result) => { done(result, work.id); over(null); }, failed: over });
  } catch (error) {
    over(error instanceof RefusedError ? error.refusal : { message: words.noNetwork, remedy: '' });
  }
}

/** @param {Bench} bench */
function write(bench) {
  return ask(bench, 'how-to', (blob, work) => {
    bench.kept.howTo = { blob, url: `/api/work/${work}/result` };
  }, true);
}

/** @param {Bench} bench */
function saveFolder(bench) {
  return ask(bench, 'how-to/folder', (blob) => saveAs(blob, fileName(bench, '-how-to.zip')), true);
}

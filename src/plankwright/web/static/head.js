/** The head of the column: back to the jobs, undo and redo, whether all is kept, the job's name. */

import { h, refill } from './dom.js';
import { words } from './strings.js';

/** @typedef {import('./bench.js').Bench} Bench */

/** @param {Bench} bench */
export function fillHead(bench) {
  const { job } = bench;
  document.title = `${job.document.job?.name || words.nameless} – ${words.app}`;
  refill(
    bench.heads,
    h('a', { class: 'word', href: '#/' }, words.jobs),
    h('button', { class: 'word', type: 'button', id: 'undo', disabled: !job.undoable.length, onclick: () => job.undo() }, words.undo),
    h('button', { class: 'word', type: 'button', id: 'redo', disabled: !job.redoable.length, onclick: () => job.redo() }, words.redo),
    h('span', { class: 'kept', id: 'kept' }),
    h('h1', {}, h('input', {
      id: 'jobname', type: 'text', 'aria-label': words.jobName, placeholder: words.nameless, maxlength: 10000,
      value: job.document.job?.name ?? '',
      oninput: (/** @type {Event} */ event) => {
        const name = /** @type {HTMLInputElement} */ (event.target).value;
        job.change('name', (document) => { (document.job ??= {}).name = name; });
      },
    })),
  );
  showKept(bench);
}

/** Whether everything is kept; when another device was first, whose shall stand. @param {Bench} bench */
export function showKept(bench) {
  const place = document.getElementById('kept');
  if (!place) return;
  const { job } = bench;
  refill(place, words.keptWords[job.kept], job.kept === 'changed elsewhere' && [
    h('button', { class: 'word', type: 'button', id: 'theirs', onclick: () => job.takeTheirs() }, words.takeTheirs),
    h('button', { class: 'word', type: 'button', id: 'mine', onclick: () => job.keepMine() }, words.keepMine)]);
  place.className = job.kept === 'kept' || job.kept === 'keeping' ? 'kept' : 'kept bad';
}

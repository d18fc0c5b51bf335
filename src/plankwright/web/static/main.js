/** Where the page begins: the address after the # says what is shown. */

import { Bench } from './bench.js';
import { byId, h, refill } from './dom.js';
import { sentence } from './fields.js';
import { loadJob } from './job.js';
import { RefusedError } from './net.js';
import { jobsPage } from './pages/jobs.js';
import { words } from './strings.js';

/** @type {Bench | null} */
let bench = null;

async function show() {
  const page = byId('page');
  const [, kind, id, step] = location.hash.split('/');
  bench?.leave();
  bench = null;
  try {
    if (kind === 'job' && id) bench = new Bench(page, await loadJob(id), step || 'measure');
    else await jobsPage(page);
  } catch (error) {
    const told = error instanceof RefusedError ? sentence(error.refusal) : words.away;
    refill(page, h('main', { class: 'plain' }, h('h1', {}, words.app), h('p', { class: 'crayon' }, told), h('a', { class: 'other', href: '#/' }, words.jobs)));
  }
}

/** @param {KeyboardEvent} event */
function keys(event) {
  if (!bench || !(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key !== 'z' && key !== 'y') return;
  event.preventDefault();
  if (key === 'y' || event.shiftKey) bench.job.redo();
  else bench.job.undo();
}

window.addEventListener('hashchange', show);
window.addEventListener('keydown', keys);
show();
if ('serviceWorker' in navigator && window.isSecureContext) {
  navigator.serviceWorker.register('/sw.js').catch(() => {});
}

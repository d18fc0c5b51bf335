/** Files given out: what the server made is saved by the browser. */

import { h } from './dom.js';
import { send } from './net.js';

/**
 * @param {Blob} blob
 * @param {string} name
 */
export function saveAs(blob, name) {
  const url = URL.createObjectURL(blob);
  const link = h('a', { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/**
 * Ask for a file that is made from the document, and save it.
 * @param {import('./bench.js').Bench} bench
 * @param {string} path
 * @param {string} ending
 */
export async function fetchAndSave(bench, path, ending) {
  const answer = await send('POST', path, { document: bench.job.document });
  saveAs(await answer.blob(), fileName(bench, ending));
}

/** @param {import('./bench.js').Bench} bench @param {string} ending */
export function fileName(bench, ending) {
  const name = String(bench.job.document.job?.name ?? '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  return `${name.slice(0, 60) || 'job'}${ending}`;
}

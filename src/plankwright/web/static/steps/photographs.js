/** Photographs of the laying: kept with the job, each once. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { RefusedError, send } from '../net.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.tell;

/** @param {Bench} bench */
export function photographs(bench) {
  const photos = [...bench.day.state.photos.values()];
  return [
    h('p', { class: 'row' },
      h('label', { class: 'other', for: 'photo' }, w.addPhoto),
      h('input', { class: 'unseen', id: 'photo', type: 'file', accept: 'image/jpeg,image/png,image/webp', onchange: (/** @type {Event} */ event) => add(bench, event) })),
    bench.kept.photoRefusal && h('p', { class: 'crayon', role: 'alert' }, sentence(bench.kept.photoRefusal)),
    photos.length > 0 && h('ul', { class: 'photos' }, photos.map(([, photo, caption]) => h('li', {},
      h('img', { src: `/api/jobs/${bench.job.id}/photographs/${photo}`, alt: caption || w.photo, loading: 'lazy' }), caption && h('span', {}, caption)))),
  ];
}

/** @param {Bench} bench @param {Event} event */
async function add(bench, event) {
  const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
  if (!file) return;
  bench.kept.photoRefusal = null;
  try {
    const { photo } = await (await send('POST', `/api/jobs/${bench.job.id}/photographs`, file)).json();
    const caption = file.name.replace(/\.[^.]*$/, '').slice(0, 200);
    await bench.day.write({ kind: 'photographed', photo, where: '', caption });
  } catch (error) {
    bench.kept.photoRefusal = error instanceof RefusedError ? error.refusal : { message: words.noNetwork, remedy: '' };
    bench.fillColumn();
  }
}

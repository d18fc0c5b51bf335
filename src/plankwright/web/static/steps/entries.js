/** A list of entries of one kind in the document: each opens, and one more can be added. */

import { h } from '../dom.js';
import { setAt, valueAt } from '../fields.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../fields.js').Way} Way */

/**
 * @param {Bench} bench
 * @param {Way} way
 * @param {(entry: any, number: number) => string} title
 * @param {string} more
 * @param {() => any} fresh
 * @param {(way: Way) => import('../dom.js').Child[]} fields
 */
export function entries(bench, way, title, more, fresh, fields) {
  const list = valueAt(bench.job.document, way) ?? [];
  const id = way.join('-');
  return [
    ...list.map((/** @type {any} */ entry, /** @type {number} */ i) => h('details', { id: `entry-${id}-${i}`, class: 'entry' },
      h('summary', {}, title(entry, i + 1)),
      ...fields([...way, i]),
      h('button', {
        class: 'word', type: 'button',
        onclick: () => bench.job.change('', (document) => {
          valueAt(document, way).splice(i, 1);
          if (!valueAt(document, way).length) setAt(document, way, undefined);
        }),
      }, words.things.takeOut))),
    h('p', {}, h('button', {
      class: 'other', type: 'button', id: `more-${id}`,
      onclick: () => {
        bench.openDetails.add(`entry-${id}-${list.length}`);
        bench.job.change('', (document) => setAt(document, [...way, list.length], fresh()));
      },
    }, more)),
  ];
}

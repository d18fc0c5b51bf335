/** Check the slab: what is known, and the advice. */

import { h } from '../dom.js';
import { checks, field, tick } from '../fields.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.slab;

/** @type {import('../bench.js').Step} */
export const slab = {
  key: 'slab',
  brief: () => '',
  view: (bench) => [h('p', {}, w.how), bench.onward('board')],
};
void [checks, field, tick];

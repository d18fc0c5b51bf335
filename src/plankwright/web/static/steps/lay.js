/** Lay. */

import { h } from '../dom.js';
import { words } from '../strings.js';

/** @type {import('../bench.js').Step} */
export const lay = {
  key: 'lay',
  brief: () => '',
  view: () => [h('p', {}, words.lay.how)],
};

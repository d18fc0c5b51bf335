/** Tell. */

import { h } from '../dom.js';
import { words } from '../strings.js';

/** @type {import('../bench.js').Step} */
export const tell = {
  key: 'tell',
  brief: () => '',
  view: () => [h('p', {}, words.tell.how)],
};

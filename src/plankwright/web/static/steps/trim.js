/** Trim. */

import { h } from '../dom.js';
import { words } from '../strings.js';

/** @type {import('../bench.js').Step} */
export const trim = {
  key: 'trim',
  brief: () => '',
  view: () => [h('p', {}, words.trim.how)],
};

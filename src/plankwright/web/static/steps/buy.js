/** Buy: the shopping list, every line with its reason. */

import { h } from '../dom.js';
import { words } from '../strings.js';

/** @type {import('../bench.js').Step} */
export const buy = {
  key: 'buy',
  brief: () => '',
  view: (bench) => [h('p', {}, words.buy.how), bench.onward('lay')],
};

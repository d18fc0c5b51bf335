/** What is believed of the corners: all about square, none known, or each by itself. */

import { h } from '../dom.js';
import { field } from '../fields.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.measure;
const own = words.tying;

/** @param {Bench} bench */
export function cornerAngles(bench) {
  const angles = bench.job.document.room?.angles ?? 'unknown';
  const isEach = typeof angles === 'object';
  /** @type {[string, string][]} */
  const options = [['square', w.square], ['unknown', w.unknown], ['each', own.each]];
  const chosen = isEach ? 'each' : angles === 'square' ? 'square' : 'unknown';
  return h('div', { class: 'field' },
    h('label', { for: 'f-room-angles' }, w.corners),
    h('select', { id: 'f-room-angles', onchange: (/** @type {Event} */ event) => believe(bench, /** @type {HTMLSelectElement} */ (event.target).value) },
      options.map(([value, told]) => h('option', { value, selected: value === chosen }, told))));
}

/** Begin each corner with what was believed of all. @param {Bench} bench @param {string} chosen */
function believe(bench, chosen) {
  const { corners } = bench.tape;
  bench.job.change('', (document) => {
    const wereSquare = document.room.angles === 'square';
    document.room.angles = chosen === 'each'
      ? Object.fromEntries(wereSquare ? corners.map((corner) => [corner, 'square']) : [])
      : chosen;
  });
}

/** A field for each corner. @param {Bench} bench */
export function eachAngle(bench) {
  if (typeof bench.job.document.room?.angles !== 'object') return null;
  return [
    h('div', { class: 'two', id: 'angles' }, bench.tape.corners.map((corner) => field(
      bench, ['room', 'angles', corner], own.angle(corner), { kind: 'text', empty: own.notKnown },
    ))),
    h('p', { class: 'pencil' }, own.anglesHow),
  ];
}

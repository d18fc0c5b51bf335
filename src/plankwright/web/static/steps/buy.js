/** Buy: the shopping list, every line with its reason. */

import { asked } from '../asked.js';
import { h } from '../dom.js';
import { checks, field, sentence } from '../fields.js';
import { fetchAndSave } from '../save.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.buy;

/** @type {import('../bench.js').Step} */
export const buy = {
  key: 'buy',
  brief,
  view,
  enter: (bench) => {
    if (bench.picture) asked(bench, '/api/buy').want(bench.planner.state);
  },
};

/** What is bought, with boards kept for repair; before the list is made, what the floor takes. @param {Bench} bench */
function brief(bench) {
  if (!bench.picture) return '';
  const list = asked(bench, '/api/buy').fresh;
  const boards = list?.parts[0].lines[0];
  return boards ? w.packs(boards.count) : w.packsOrMore(bench.picture.figures.packs);
}

/** @param {Bench} bench */
function view(bench) {
  if (!bench.measured?.room) return [h('p', {}, words.needsRoom), bench.onward('measure')];
  const { value: list, refusal, waiting } = asked(bench, '/api/buy');
  return [
    refusal && h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${sentence(refusal)}`),
    !list && !refusal && h('p', { class: 'pencil' }, w.working),
    list && h('div', { 'aria-busy': String(waiting) }, list.parts.map((/** @type {any} */ part) => partOf(bench, part))),
    list?.sums && h('p', { class: 'figure' }, list.sums.total),
    list?.sums && h('p', { class: 'pencil' }, w.sums(list.sums)),
    list && h('div', { class: 'row' },
      list.drawings.map((/** @type {string} */ name) => h('button', {
        class: 'other', type: 'button', onclick: () => bench.sheet.show(`/api/buy/drawing/${name}`, w.drawings[/** @type {'trim'} */ (name)]),
      }, w.drawings[/** @type {'trim'} */ (name)])),
      h('button', { class: 'other', type: 'button', onclick: () => window.print() }, words.print),
      h('button', { class: 'word', type: 'button', onclick: () => fetchAndSave(bench, '/api/buy/list', '-shopping.csv') }, w.asTable)),
    h('details', { id: 'buy-prices' }, h('summary', {}, w.pricesTitle), priceFields(bench)),
    bench.onward('lay'),
  ];
}

/** @param {Bench} bench @param {any} part */
function partOf(bench, part) {
  if (!part.lines.length && !part.findings.length) return null;
  return [
    h('h3', {}, part.title),
    h('ul', { class: 'shopping' }, part.lines.map((/** @type {any} */ line) => shoppingLine(bench, line))),
    ...checks(part.findings),
    part.notes.length > 0 && h('details', { id: `notes-${part.title}` }, h('summary', {}, w.howAndWhy),
      part.notes.map((/** @type {string} */ note) => h('p', { class: 'pencil' }, note))),
  ];
}

/** @param {Bench} bench @param {any} line */
function shoppingLine(bench, line) {
  const key = `bought:${bench.job.id}:${line.item}`;
  const unit = line.unit.startsWith('piece') ? '' : ` ${line.unit}`;
  return h('li', {}, h('label', { class: 'tick' },
    h('input', {
      type: 'checkbox', checked: localStorage.getItem(key) === '1',
      onchange: (/** @type {Event} */ event) => {
        if (/** @type {HTMLInputElement} */ (event.target).checked) localStorage.setItem(key, '1');
        else localStorage.removeItem(key);
      },
    }),
    h('span', {}, h('b', {}, `${line.count}${unit} `), line.item, line.amount && h('span', { class: 'length' }, ` · ${line.amount}`),
      h('span', { class: 'reason' }, line.why))));
}

/** @param {Bench} bench */
function priceFields(bench) {
  const text = { kind: /** @type {'text'} */ ('text') };
  return [
    h('div', { class: 'two' }, field(bench, ['buy', 'currency'], w.currency, { ...text, empty: 'USD' }), field(bench, ['buy', 'tax'], w.tax, { kind: 'number' })),
    h('div', { class: 'two' }, field(bench, ['buy', 'pack'], w.pack, text), field(bench, ['buy', 'trip'], w.trip, text)),
    h('div', { class: 'two' }, field(bench, ['buy', 'film', 'price'], w.film, text), field(bench, ['buy', 'pad', 'price'], w.pad, text)),
    field(bench, ['buy', 'spares'], w.spares, { kind: 'number' }),
  ];
}

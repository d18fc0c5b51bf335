/** Fields of the job document: a label, what is typed, and how it was understood. */

import { h } from './dom.js';
import { words } from './strings.js';

/** @typedef {import('./bench.js').Bench} Bench */
/** @typedef {{kind?: 'length' | 'number' | 'text' | 'date', empty?: string, help?: string, onenter?: () => void}} How */
/** @typedef {(string | number)[]} Way a place in the document: room, fixed, 0, size, 1 */

/**
 * What stands at a place of the document.
 * @param {any} document
 * @param {Way} way
 */
export function valueAt(document, way) {
  return way.reduce((table, key) => table?.[key], document);
}

/**
 * Put a value at a place, making the tables on the way; empty takes the entry out.
 * @param {any} document
 * @param {Way} way
 * @param {unknown} value
 */
export function setAt(document, way, value) {
  let table = document;
  way.slice(0, -1).forEach((key, i) => {
    table = table[key] ??= typeof way[i + 1] === 'number' ? [] : {};
  });
  const last = way[way.length - 1];
  if ((value === '' || value === undefined || value === null) && !Array.isArray(table)) delete table[last];
  else table[last] = value;
}

/**
 * How a typed length was understood, or why it was not.
 * @param {Bench} bench
 * @param {Way} way
 * @returns {{told: string, bad: boolean}}
 */
export function toldAt(bench, way) {
  const place = way.join('.');
  const length = bench.measured?.lengths[place];
  if (length?.refusal) return { told: sentence(length.refusal), bad: true };
  const refusal = bench.measured?.refusal;
  if (refusal && placeOf(refusal) === place) return { told: sentence(refusal), bad: true };
  return { told: length?.told ? `= ${length.told}` : '', bad: false };
}

/** The place in the document that a refusal speaks of. @param {{where: string}} refusal */
export function placeOf(refusal) {
  return refusal.where.replaceAll(': ', '.');
}

/** @param {{message: string, remedy: string}} refusal */
export function sentence(refusal) {
  const first = refusal.message.charAt(0).toUpperCase() + refusal.message.slice(1);
  return [`${first}.`, refusal.remedy].filter(Boolean).join(' ');
}

/** The id of a field: what a person named may hold spaces, an id may not. @param {Way} way */
export function idOf(way) {
  return `f-${way.join('-')}`.replace(/\s/g, '_');
}

/**
 * A field for a length, a number or a text.
 * @param {Bench} bench
 * @param {Way} way
 * @param {string} label
 * @param {How} [how]
 */
export function field(bench, way, label, how = {}) {
  return h('div', { class: 'field' }, h('label', { for: idOf(way) }, label), bareField(bench, way, null, how));
}

/**
 * The field itself and the line below it.
 * @param {Bench} bench
 * @param {Way} way
 * @param {string | null} label where no label stands beside it
 * @param {How} [how]
 * @returns {HTMLElement[]}
 */
export function bareField(bench, way, label, how = {}) {
  const id = idOf(way);
  const { told, bad } = how.kind === 'length' || !how.kind ? toldAt(bench, way) : refusalAt(bench, way);
  const value = valueAt(bench.job.document, way);
  const input = h('input', {
    id,
    type: how.kind === 'date' ? 'date' : 'text',
    inputmode: how.kind === 'number' ? 'decimal' : null,
    autocomplete: 'off',
    spellcheck: 'false',
    maxlength: 10000,
    placeholder: how.empty ?? '',
    value: Array.isArray(value) ? value.join('; ') : (value ?? ''),
    'aria-invalid': bad ? 'true' : null,
    'aria-describedby': `${id}-told`,
    'aria-label': label,
    oninput: (/** @type {InputEvent} */ event) => {
      const typed = /** @type {HTMLInputElement} */ (event.target).value;
      bench.job.change(id, (document) => setAt(document, way, typedValue(typed, how.kind)));
    },
    onblur: () => bench.job.settle(),
    onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && how.onenter?.(),
  });
  const line = h('span', { class: bad ? 'told bad' : 'told', id: `${id}-told` }, told || how.help || '');
  return [input, line];
}

/**
 * @param {string} typed
 * @param {string} [kind]
 */
function typedValue(typed, kind) {
  if (kind === 'number') {
    const number = Number(typed.replace(',', '.'));
    return typed.trim() === '' ? '' : Number.isFinite(number) ? number : typed;
  }
  if (!kind || kind === 'length') {
    const parts = typed.split(';').map((part) => part.trim()).filter(Boolean);
    return parts.length > 1 ? parts : typed;
  }
  return typed;
}

/** @param {Bench} bench @param {Way} way */
function refusalAt(bench, way) {
  const refusal = [bench.measured?.refusal, bench.refusal].find((r) => r && placeOf(r) === way.join('.'));
  return refusal ? { told: sentence(refusal), bad: true } : { told: '', bad: false };
}

/**
 * A choice of words.
 * @param {Bench} bench
 * @param {Way} way
 * @param {string} label
 * @param {[string, string][]} options value and words
 * @param {string} [usual] what an absent entry means
 */
export function choice(bench, way, label, options, usual = options[0][0]) {
  const id = idOf(way);
  const now = String(valueAt(bench.job.document, way) ?? usual);
  const known = options.some(([value]) => value === now) ? options : [...options, /** @type {[string, string]} */ ([now, now])];
  const select = h(
    'select',
    {
      id,
      onchange: (/** @type {Event} */ event) => {
        const chosen = /** @type {HTMLSelectElement} */ (event.target).value;
        bench.job.change('', (document) => setAt(document, way, chosen));
      },
    },
    known.map(([value, told]) => h('option', { value, selected: value === now }, told)),
  );
  return h('div', { class: 'field' }, h('label', { for: id }, label), select);
}

/**
 * Yes or no.
 * @param {Bench} bench
 * @param {Way} way
 * @param {string} label
 */
export function tick(bench, way, label) {
  const id = idOf(way);
  const box = h('input', {
    id,
    type: 'checkbox',
    checked: valueAt(bench.job.document, way) === true,
    onchange: (/** @type {Event} */ event) => {
      const on = /** @type {HTMLInputElement} */ (event.target).checked;
      bench.job.change('', (document) => setAt(document, way, on || undefined));
    },
  });
  return h('label', { class: 'tick', for: id }, box, label);
}

/** @param {{code: string, where: string, message: string, remedy: string}[]} findings */
export function checks(findings) {
  /** @type {Map<string, {finding: any, places: string[]}>} */
  const together = new Map();
  for (const finding of findings) {
    const key = `${finding.code} ${finding.message} ${finding.remedy}`;
    const entry = together.get(key) ?? { finding, places: [] };
    if (finding.where) entry.places.push(finding.where);
    together.set(key, entry);
  }
  return [...together.values()].map(({ finding, places }) => {
    const shown = places.slice(0, 4).join(', ') + (places.length > 4 ? words.more(places.length - 4) : '');
    return h('div', { class: 'check' }, h('b', {}, words.checkThis), shown ? ` (${shown}): ` : ': ', sentence(finding));
  });
}

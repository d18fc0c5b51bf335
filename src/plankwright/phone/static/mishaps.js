/** What can be told beside the next card: its fields, and the events that it writes down. */

import { parseTyped } from './typed.js';
import { make } from './view.js';
import { WORDS } from './words.js';

/**
 * @typedef {import('./day.js').Day} Day
 * @typedef {import('./day.js').What} What
 * @typedef {object} Mishap
 * @property {(day: Day, known: Record<string, any>) => Node[]} fields
 * @property {(form: FormData, day: Day) => What[]} events throws an Error that says what is wrong
 */

/** @type {Record<string, Mishap>} */
export const MISHAPS = {
  damaged: {
    fields: () => [field('piece')],
    events: (form) => [{ kind: 'piece-damaged', piece: text(form, 'piece') }],
  },
  damagedBoard: {
    fields: () => [field('pack', { required: false })],
    events: (form) => [{ kind: 'board-damaged', pack: text(form, 'pack', '') }],
  },
  lifted: {
    fields: () => [field('piece')],
    events: (form) => [{ kind: 'piece-lifted', piece: text(form, 'piece') }],
  },
  measured: {
    fields: (day, known) => [
      field('row', { inputmode: 'numeric', value: known.row ?? newestRow(day) }),
      choice('end', WORDS.rowEnds),
      field('length', { inputmode: 'text' }),
    ],
    events: (form, day) => [{
      kind: 'distance-measured', what: 'to the far wall', row: whole(form, 'row'),
      end: text(form, 'end'), length_mm: length(form, day),
    }],
  },
  gap: {
    fields: () => [field('place'), field('length')],
    events: (form, day) => [{ kind: 'gap-checked', where: text(form, 'place'), gap_mm: length(form, day) }],
  },
  locked: {
    fields: (day) => [field('row', { inputmode: 'numeric', value: newestRow(day) })],
    events: (form) => [{ kind: 'row-locked', row: whole(form, 'row') }],
  },
  opened: {
    fields: (day) => [
      field('pack'), field('batch', { required: false }),
      field('boards', { inputmode: 'numeric', value: day.job.per_pack }),
    ],
    events: (form) => [{
      kind: 'boards-opened', pack: text(form, 'pack'), batch: text(form, 'batch', ''), boards: whole(form, 'boards'),
    }],
  },
  found: {
    fields: () => [field('letter'), field('length'), choice('ends', WORDS.ends)],
    events: (form, day) => [{
      kind: 'offcut-found', label: text(form, 'letter'), length_mm: length(form, day),
      width_mm: day.job.board_mm[1], ends: text(form, 'ends'),
    }],
  },
  thrown: {
    fields: () => [field('letter')],
    events: (form) => [{ kind: 'offcut-thrown', label: text(form, 'letter') }],
  },
  note: {
    fields: () => [field('text')],
    events: (form) => [{ kind: 'noted', text: text(form, 'text'), where: '' }],
  },
};

/** @param {Day} day */
function newestRow(day) {
  return Math.max(1, ...[...day.state.laid.keys()].map((piece) => parseInt(piece, 10)));
}

/** @param {keyof typeof WORDS.fields} name @param {Record<string, any>} [how] */
function field(name, how = {}) {
  const input = make('input', { name, type: 'text', autocomplete: 'off', maxlength: 80, required: true, ...how });
  return make('label', { class: 'field' }, [make('span', {}, [WORDS.fields[name]]), input]);
}

/** @param {'end' | 'ends'} name @param {Record<string, string>} words */
function choice(name, words) {
  const options = Object.entries(words).map(([value, told]) => make('option', { value }, [told]));
  return make('label', { class: 'field' }, [make('span', {}, [WORDS.fields[name]]), make('select', { name }, options)]);
}

/** @param {FormData} form @param {string} name @param {string} [otherwise] */
function text(form, name, otherwise) {
  const value = String(form.get(name) ?? '').trim();
  if (!value && otherwise === undefined) throw new Error(WORDS.noText);
  return value || (otherwise ?? '');
}

/** @param {FormData} form @param {string} name */
function whole(form, name) {
  const value = text(form, name);
  if (!/^\d{1,4}$/.test(value)) throw new Error(WORDS.noRow);
  return Number(value);
}

/** @param {FormData} form @param {Day} day */
function length(form, day) {
  const size = parseTyped(text(form, 'length'), day.job.unit);
  if (size === null) throw new Error(WORDS.noLength);
  return size;
}

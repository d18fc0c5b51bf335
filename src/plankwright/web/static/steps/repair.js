/** A board that lies must come out: what comes up for it, against cutting it out where it lies. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { RefusedError, call } from '../net.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {{pieces: string[], happened: number, answer: any, refusal: any}} Asked */
/** @typedef {'lift' | 'cut out'} Way */

const w = words.repair;
/** @type {Way[]} */
const WAYS = ['lift', 'cut out'];

/** The button below a piece that lies, and the answer once it was asked. @param {Bench} bench */
export function repair(bench) {
  const asked = askedOf(bench);
  const piece = bench.picked?.id;
  const offered = piece && bench.day.state.laid.has(piece) && !asked?.pieces.includes(piece);
  return [
    offered && h('p', {}, h('button', { class: 'other', type: 'button', id: 'comesout', onclick: () => ask(bench, [...(asked?.pieces ?? []), piece]) }, asked ? w.too : w.comesOut)),
    asked && h('section', { class: 'card', id: 'repair', 'aria-live': 'polite' },
      h('h3', {}, w.title(asked.pieces)),
      !asked.answer && !asked.refusal && h('p', { role: 'status', class: 'pencil' }, w.asking),
      asked.refusal && h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${sentence(asked.refusal)}`),
      asked.answer && answerOf(bench, asked.answer),
      h('p', {}, h('button', { class: 'word', type: 'button', id: 'leaverepair', onclick: () => forget(bench) }, w.leave))),
  ];
}

/** What was asked, unless something has happened on the floor since. @param {Bench} bench @returns {Asked | null} */
function askedOf(bench) {
  const asked = bench.kept.repair;
  return asked?.happened === bench.day.events.length ? asked : null;
}

/** How the pieces look on the drawing while a repair is looked at. @param {Bench} bench @param {Map<string, string>} looks */
export function markRepair(bench, looks) {
  const asked = askedOf(bench);
  for (const id of asked?.answer?.lifted ?? []) looks.set(id, `${looks.get(id) ?? ''} comes-up`);
  for (const id of asked?.pieces ?? []) looks.set(id, 'laid must-out');
}

/** @param {Bench} bench @param {string[]} pieces */
async function ask(bench, pieces) {
  /** @type {Asked} */
  const asked = { pieces, happened: bench.day.events.length, answer: null, refusal: null };
  bench.kept.repair = asked;
  show(bench);
  try {
    await bench.day.outbox.deliver();
    const query = new URLSearchParams(pieces.map((piece) => ['piece', piece]));
    asked.answer = await call('GET', `/api/jobs/${bench.day.id}/repair?${query}`);
  } catch (error) {
    asked.refusal = error instanceof RefusedError ? error.refusal : { message: words.noNetwork, remedy: '' };
  }
  show(bench);
  document.getElementById('repair')?.scrollIntoView({ block: 'nearest' });
}

/** @param {Bench} bench */
function show(bench) {
  bench.markDay();
  bench.fillColumn();
}

/** @param {Bench} bench */
function forget(bench) {
  bench.kept.repair = null;
  show(bench);
}

/** @param {Bench} bench @param {any} answer */
function answerOf(bench, answer) {
  const other = WAYS.filter((way) => way !== answer.advice);
  return [
    ...[answer.advice, ...other].map((/** @type {Way} */ way) => wayOf(bench, answer, way)),
    h('details', { id: 'repair-minutes' }, h('summary', {}, w.minutes), answer.minutes_from.map((/** @type {string} */ line) => h('p', { class: 'pencil' }, line))),
  ];
}

/** @param {Bench} bench @param {any} answer @param {Way} way */
function wayOf(bench, answer, way) {
  const isLift = way === 'lift';
  const figures = isLift ? answer.lift : answer.cut_out;
  const better = answer.advice === way;
  const id = isLift ? 'repair-lift' : 'repair-cut';
  const offcuts = Object.entries(answer.replacement);
  return h('div', { class: 'repairway', id },
    h('h4', {}, w.ways[way]),
    h('p', {}, h('b', {}, w.takes(figures)), better && ` · ${w.better}`),
    h('p', {}, isLift ? w.comesUp(answer) : w.inPlace, isLift && offcuts.length > 0 && ` ${w.offcuts(offcuts)}`),
    better && h('p', { class: 'pencil' }, w.because[way]),
    figures.against.length > 0 && h('div', { class: 'check' }, h('b', {}, words.checkThis), h('ul', {}, figures.against.map((/** @type {string} */ line) => h('li', {}, line)))),
    h('details', { id: `${id}-steps`, open: better }, h('summary', {}, w.steps), h('ol', { class: 'steps' }, answer.steps[way].map((/** @type {string} */ step) => h('li', {}, step)))),
    isLift && h('details', { id: 'repair-labels' }, h('summary', {}, w.labels), byRow(Object.keys(answer.labels), (piece) => answer.labels[piece])),
    isLift && h('details', { id: 'repair-order' }, h('summary', {}, w.order), byRow(answer.relaid, (piece) => (answer.pieces.includes(piece) ? w.anew(piece) : piece))),
    h('p', {}, isLift
      ? h('button', { class: 'other', type: 'button', id: 'arelifted', onclick: () => lifted(bench, answer) }, w.lifted)
      : h('button', { class: 'other', type: 'button', id: 'isreplaced', onclick: () => replaced(bench, answer) }, w.replaced)));
}

/** Pieces in their order, a line for each row. @param {string[]} pieces @param {(piece: string) => string} told */
function byRow(pieces, told) {
  /** @type {Map<string, string[]>} */
  const rows = new Map();
  for (const piece of pieces) {
    const row = piece.split('.')[0];
    rows.set(row, [...(rows.get(row) ?? []), told(piece)]);
  }
  return h('ol', { class: 'pieceorder' }, [...rows].map(([row, ids]) => h('li', {}, h('b', {}, w.row(row)), ` ${ids.join(', ')}`)));
}

/** What was lifted is in the hand again; what was damaged is waste. @param {Bench} bench @param {any} answer */
async function lifted(bench, answer) {
  bench.kept.repair = null;
  bench.picked = null;
  Object.assign(bench.kept, { mishap: 'lifted', again: null });
  await bench.day.write(
    ...answer.lifted.map((/** @type {string} */ piece) => ({ kind: 'piece-lifted', piece })),
    ...answer.pieces.map((/** @type {string} */ piece) => ({ kind: 'piece-spoiled', piece })),
  );
}

/** A new board was taken for each; the floor lies as before. @param {Bench} bench @param {any} answer */
async function replaced(bench, answer) {
  bench.kept.repair = null;
  await bench.day.write(...answer.pieces.flatMap((/** @type {string} */ piece) => [
    { kind: 'board-damaged' }, { kind: 'noted', text: w.replacedNote(piece), where: piece },
  ]));
}

/** What goes wrong: written down at once, and then the rest is planned again. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { call, RefusedError } from '../net.js';
import { follow } from '../progress.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../day.js').Card} Card */

const w = words.mishaps;

/** @param {Bench} bench @param {Card | null} card */
export function mishaps(bench, card) {
  const again = bench.kept.again;
  return [
    bench.kept.mishap && h('p', { class: 'why' }, bench.kept.mishap === 'lifted' ? words.repair.liftedDown : w.writtenDown),
    bench.kept.mishap && h('button', { class: 'main', type: 'button', id: 'planagain', onclick: () => planAgain(bench) }, w.planAgain),
    bench.kept.planning && h('p', { role: 'status', class: 'pencil' }, w.planning),
    again && h('div', { class: 'why', id: 'again' }, h('b', {}, w.answer(again)), again.changes.length > 0 && h('details', { id: 'again-changes' }, h('summary', {}, w.changes(again.changes.length)), h('ul', {}, again.changes.map((/** @type {any} */ one) => h('li', {}, `${one.where}: ${one.what}, ${one.why}`))))),
    bench.kept.againRefusal && h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${sentence(bench.kept.againRefusal)}`),
    h('details', { id: 'lay-mishaps' }, h('summary', {}, w.title),
      card && h('p', {}, h('button', { class: 'other', type: 'button', id: 'spoiled', onclick: () => spoiled(bench, card) }, w.spoiled(card.piece))),
      h('p', {}, h('button', { class: 'other', type: 'button', id: 'damaged', onclick: () => happened(bench, { kind: 'board-damaged' }) }, w.boardDamaged)),
      bench.day.state.laid.size > 0 && h('p', {}, words.repair.how),
      lostOffcut(bench),
      movedWall(bench),
      measured(bench, card),
      noteField(bench),
      !bench.kept.mishap && h('p', {}, h('button', { class: 'other', type: 'button', onclick: () => planAgain(bench) }, w.planAgain))),
  ];
}

/** @param {Bench} bench @param {...Record<string, any>} whats */
async function happened(bench, ...whats) {
  bench.kept.mishap = true;
  bench.kept.again = null;
  await bench.day.write(...whats);
}

/** A piece cut wrong: it was cut, and it is waste. @param {Bench} bench @param {Card} card */
function spoiled(bench, card) {
  const inHand = bench.day.state.hand.has(card.piece);
  const spoil = { kind: 'piece-spoiled', piece: card.piece };
  if (!card.cut_event) return happened(bench, { kind: 'board-damaged' });
  return happened(bench, ...(inHand ? [spoil] : [card.cut_event, spoil]));
}

/** @param {Bench} bench */
function lostOffcut(bench) {
  const letters = [...bench.day.state.shelf.keys()].sort();
  if (!letters.length) return null;
  return h('div', { class: 'pairrow' },
    h('label', { for: 'lostoffcut' }, w.lost),
    h('select', { id: 'lostoffcut', 'data-draft': true }, letters.map((letter) => h('option', { value: letter }, letter))),
    h('button', { class: 'other', type: 'button', onclick: () => happened(bench, { kind: 'offcut-thrown', label: valueOf('lostoffcut') }) }, w.isLost));
}

/** @param {Bench} bench */
function movedWall(bench) {
  const walls = [...new Set((bench.measured?.room?.walls ?? []).map((/** @type {any} */ wall) => wall.name))];
  return h('div', {},
    h('p', {}, w.moved),
    h('div', { class: 'two' },
      h('div', { class: 'field' }, h('label', { for: 'movedwall' }, w.wall), h('select', { id: 'movedwall', 'data-draft': true }, walls.map((name) => h('option', { value: name }, name.replace('-', '–'))))),
      h('div', { class: 'field' }, h('label', { for: 'movedby' }, w.nearer), h('input', { id: 'movedby', type: 'text', autocomplete: 'off' }))),
    h('button', {
      class: 'other', type: 'button', onclick: async () => {
        const typed = valueOf('movedby').trim();
        const read = await bench.readLength(typed.replace(/^[-−]/, ''));
        if (read === null) return;
        const by = /^[-−]/.test(typed) ? -read : read;
        bench.kept.walls = [...(bench.kept.walls ?? []).filter((/** @type {any} */ one) => one.wall !== valueOf('movedwall')), { wall: valueOf('movedwall'), nearer_mm: by }];
        bench.kept.mishap = true;
        await bench.day.write({ kind: 'noted', text: w.movedNote(valueOf('movedwall'), typed), where: valueOf('movedwall') });
      },
    }, w.writeDown));
}

/** @param {Bench} bench @param {Card | null} card */
function measured(bench, card) {
  const row = card ? Math.max(1, card.row - 1) : 1;
  return h('div', {},
    h('p', {}, w.farWall(row)),
    h('div', { class: 'two' }, ['near', 'far'].map((end) => h('div', { class: 'field' },
      h('label', { for: `farwall-${end}` }, w.ends[/** @type {'near'} */ (end)]),
      h('input', { id: `farwall-${end}`, type: 'text', autocomplete: 'off' })))),
    h('button', {
      class: 'other', type: 'button',
      onclick: async () => {
        const ends = /** @type {const} */ (['near', 'far']);
        const read = await Promise.all(ends.map((end) => bench.readLength(valueOf(`farwall-${end}`))));
        const whats = ends.flatMap((end, i) => (read[i] === null ? [] : [{ kind: 'distance-measured', what: 'to the far wall', row, end, length_mm: read[i] }]));
        if (whats.length) await happened(bench, ...whats);
      },
    }, w.writeDown));
}

/** @param {Bench} bench */
function noteField(bench) {
  return h('div', { class: 'field' },
    h('label', { for: 'daynote' }, w.note),
    h('textarea', { id: 'daynote', rows: 2, maxlength: 2000 }),
    h('button', {
      class: 'other', type: 'button',
      onclick: async () => {
        const text = valueOf('daynote').trim();
        /** @type {HTMLInputElement} */ (document.getElementById('daynote')).value = '';
        if (text) await bench.day.write({ kind: 'noted', text });
      },
    }, w.writeDown));
}

/** @param {string} id */
function valueOf(id) {
  return /** @type {HTMLInputElement} */ (document.getElementById(id)).value;
}

/** Plan the rest from what lies. @param {Bench} bench */
async function planAgain(bench) {
  const { day, kept } = bench;
  kept.planning = true;
  kept.againRefusal = null;
  bench.fillColumn();
  const over = (/** @type {any} */ again, /** @type {any} */ refusal) => {
    Object.assign(kept, { planning: false, mishap: !again && kept.mishap, again, againRefusal: refusal });
    if (again) day.load();
    bench.fillColumn();
  };
  try {
    await day.outbox.deliver();
    const work = await call('POST', `/api/jobs/${day.id}/plan-again`, { walls: kept.walls ?? [] });
    follow(work.id, { told: () => {}, done: (again) => over(again, null), failed: (refusal) => over(null, refusal) });
  } catch (error) {
    over(null, error instanceof RefusedError ? error.refusal : { message: words.noNetwork, remedy: '' });
  }
}

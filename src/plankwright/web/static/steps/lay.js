/** Lay: one card after the other, ticked off; what goes wrong is written down and planned around. */

import { h } from '../dom.js';
import { sentence } from '../fields.js';
import { readEvents } from '../give.js';
import { shareDetails } from '../pages/share.js';
import { words } from '../strings.js';
import { mishaps } from './mishaps.js';
import { pieceCard } from './piece.js';
import { repair } from './repair.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../day.js').Card} Card */

const w = words.lay;
/** @type {('near' | 'far')[]} */
const ENDS = ['near', 'far'];

/** @type {import('../bench.js').Step} */
export const lay = {
  key: 'lay',
  brief: (bench) => (bench.day.begun ? w.brief(bench.day.state.laid.size, bench.day.cards.length) : ''),
  view,
  enter: (bench) => { bench.markDay(); },
};

/** @param {Bench} bench */
function view(bench) {
  const { day } = bench;
  if (!bench.measured?.room && !day.begun) return [h('p', {}, words.needsRoom), bench.onward('measure')];
  if (!day.begun) return beginning(bench);
  const card = day.next;
  return [
    waiting(bench),
    forecastOf(bench),
    day.check ? checkOf(bench, day.check) : card ? cardOf(bench, card) : [h('p', { class: 'figure' }, w.doneTitle), h('p', {}, w.done), bench.onward('trim')],
    afterCard(bench),
    bench.picked && pieceCard(bench, bench.picked),
    repair(bench),
    mishaps(bench, card),
    shelf(bench),
    packs(bench),
    aside(bench),
    h('details', { id: 'lay-phone' }, h('summary', {}, w.phoneTitle), phone(bench)),
    shareDetails(),
  ];
}

/** @param {Bench} bench */
function beginning(bench) {
  return [
    h('p', {}, w.beginHow),
    h('div', { class: 'check' }, h('b', {}, w.careTitle), w.care.map((line) => h('p', {}, line))),
    bench.picture && h('button', { class: 'main', type: 'button', id: 'begin', onclick: () => bench.day.begin() }, w.begin),
  ];
}

/** What still waits on this device. @param {Bench} bench */
function waiting(bench) {
  const { outbox } = bench.day;
  if (!outbox.away && !outbox.refusal) return null;
  return h('p', { class: 'why', role: 'status', id: 'waiting' }, outbox.refusal ? `${w.refused} ${sentence(outbox.refusal)}` : w.waiting(outbox.waiting.length));
}

/** @param {Bench} bench @param {Card} card */
function cardOf(bench, card) {
  const { day } = bench;
  const inHand = day.state.hand.has(card.piece);
  const toCut = card.cut_event && !inHand;
  const [cutLength, cutRest] = splitLength(card.cut);
  return h('article', { class: 'layingcard', 'aria-label': card.place },
    h('h3', { class: 'place' }, card.place),
    toCut ? [
      h('p', { class: 'take' }, card.take),
      h('p', { class: 'cutlength' }, cutLength),
      cutRest && h('p', {}, cutRest),
      h('p', {}, h('b', {}, card.keep)),
      boardAtSaw(bench, card),
      ...[card.lie, card.shape, ...card.shelf, card.check].filter(Boolean).map((line) => h('p', {}, line)),
    ] : [
      !inHand && h('p', { class: 'take' }, card.take),
      card.trim && h('p', {}, card.trim),
      h('p', { class: 'cutlength' }, card.lay),
    ],
    toCut
      ? h('button', { class: 'main thumb', type: 'button', id: 'docard', onclick: () => act(bench, card.cut_event) }, w.cut)
      : h('button', { class: 'main thumb', type: 'button', id: 'docard', onclick: () => act(bench, card.lay_event) }, w.laid));
}

/** A check that comes before the next piece. @param {Bench} bench @param {any} check */
function checkOf(bench, check) {
  return h('article', { class: 'layingcard', 'aria-label': check.title },
    h('h3', { class: 'place' }, check.title),
    h('ul', {}, check.items.map((/** @type {string} */ item) => h('li', {}, item))),
    check.measure_row && [
      h('p', {}, w.measureRow(check.measure_row)),
      h('div', { class: 'two' }, ENDS.map((end) => h('div', { class: 'field' },
        h('label', { for: `check-${end}` }, w.ends[end]), h('input', { id: `check-${end}`, type: 'text', autocomplete: 'off' })))),
    ],
    h('button', { class: 'main thumb', type: 'button', id: 'docheck', onclick: () => checked(bench, check) }, w.checkDone));
}

/** @param {Bench} bench @param {any} check */
async function checked(bench, check) {
  /** @type {Record<string, any>[]} */
  const whats = [];
  for (const end of ENDS) {
    const typed = /** @type {HTMLInputElement | null} */ (document.getElementById(`check-${end}`))?.value;
    const length = typed ? await bench.readLength(typed) : null;
    if (length !== null) whats.push({ kind: 'distance-measured', what: 'to the far wall', row: check.measure_row, end, length_mm: length });
  }
  await bench.day.write(...whats, { kind: 'check-made', check: check.name, good: true });
  showCard();
}

/** @param {Bench} bench */
function forecastOf(bench) {
  const { forecast } = bench.day;
  if (!forecast) return null;
  return h('p', { class: 'why' }, forecast.last_row.length > 0 && w.forecast(forecast.last_row), ' ', forecast.steps.join(' '));
}

/** The length one has come for stands large: "Cut it 12 1/4 long". @param {string} told */
function splitLength(told) {
  const dot = told.indexOf('. ');
  return dot < 0 ? [told, ''] : [told.slice(0, dot + 1), told.slice(dot + 2)];
}

/** @param {Bench} bench @param {Card} card */
function boardAtSaw(bench, card) {
  const picture = bench.day.boards[card.piece];
  if (!picture) return null;
  return h('img', { class: 'atsaw', alt: w.pictureOf(card.piece), src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(picture)}` });
}

/** @param {Bench} bench @param {any} what */
async function act(bench, what) {
  await bench.day.write(what);
  showCard();
}

function showCard() {
  const card = document.querySelector('.layingcard');
  card?.scrollIntoView({ block: 'start' });
  /** @type {HTMLElement | null} */ (card?.querySelector('.thumb') ?? null)?.focus({ preventScroll: true });
}

/** @param {Bench} bench */
function afterCard(bench) {
  const { day } = bench;
  const { next, lastStanding: last, takenBackLast: back } = day;
  return h('div', { class: 'row' },
    next && h('button', { class: 'other', type: 'button', id: 'rowdone', onclick: () => wholeRow(bench, next.row) }, w.rowDone(next.row)),
    last && h('button', { class: 'word', type: 'button', id: 'takeback', onclick: () => day.write({ kind: 'undone', event: last.id }) }, w.takeBack(last)),
    back && h('button', { class: 'word', type: 'button', id: 'bringback', onclick: () => day.write({ kind: 'undone', event: back.undo.id }) }, w.bringBack(back.what)),
    h('a', { class: 'word', id: 'phonefile', href: `/api/jobs/${bench.job.id}/laying/phone`, download: true }, w.phoneFile));
}

/** The rest of a row, cut and laid as its cards say. @param {Bench} bench @param {number} row */
async function wholeRow(bench, row) {
  const { laid, hand } = bench.day.state;
  const whats = bench.day.cards
    .filter((card) => card.row === row && !laid.has(card.piece))
    .flatMap((card) => (card.cut_event && !hand.has(card.piece) ? [card.cut_event, card.lay_event] : [card.lay_event]));
  await bench.day.write(...whats);
  showCard();
}

/** @param {Bench} bench */
function shelf(bench) {
  const letters = [...bench.day.state.shelf].sort();
  if (!letters.length) return null;
  return h('details', { id: 'lay-shelf' }, h('summary', {}, w.shelf(letters.length)),
    h('ul', {}, letters.map(([letter, offcut]) => h('li', {}, h('b', {}, letter), ` ${w.offcut(offcut, bench.job.unit)}`))));
}

/** Packs that were opened, each with its batch. @param {Bench} bench */
function packs(bench) {
  const opened = [...bench.day.state.packs].filter(([name]) => name);
  const perPack = /** @type {any} */ (bench.day.picture).figures.per_pack;
  const open = () => {
    const field = /** @type {HTMLInputElement} */ (document.getElementById('batch'));
    const batch = field.value.trim().slice(0, 80);
    bench.day.write({ kind: 'boards-opened', pack: String(opened.length + 1), batch, boards: perPack });
  };
  return h('details', { id: 'lay-packs' }, h('summary', {}, w.packs(opened.length)),
    opened.length > 0 && h('ul', {}, opened.map(([name, pack]) => h('li', {}, w.pack(name, pack)))),
    h('div', { class: 'field' }, h('label', { for: 'batch' }, w.batch), h('input', { id: 'batch', type: 'text', autocomplete: 'off' })),
    h('button', { class: 'other', type: 'button', id: 'openpack', onclick: open }, w.openPack));
}

/** The phone file: needs no network, gives its events back as a file. @param {Bench} bench */
function phone(bench) {
  return [
    h('p', {}, w.phoneHow),
    h('p', { class: 'row' },
      h('label', { class: 'other', for: 'givenback' }, w.givenBack),
      h('input', { class: 'unseen', id: 'givenback', type: 'file', accept: '.json', onchange: (/** @type {Event} */ event) => takeBack(bench, event) })),
    bench.kept.givenBack && h('p', { role: 'status' }, bench.kept.givenBack),
  ];
}

/** @param {Bench} bench @param {Event} event */
async function takeBack(bench, event) {
  const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
  if (!file) return;
  try {
    const events = readEvents(await file.text(), bench.job.id);
    await bench.day.outbox.add(events);
    bench.kept.givenBack = w.cameBack(events.length);
  } catch (error) {
    bench.kept.givenBack = String(error instanceof Error ? error.message : error);
  }
  bench.fillColumn();
}

/** What two devices wrote that cannot both have happened. @param {Bench} bench */
function aside(bench) {
  const entries = [...bench.day.state.set_aside];
  if (!entries.length) return null;
  return h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${w.aside}`,
    h('ul', {}, entries.slice(-5).map(([, reason]) => h('li', {}, reason))));
}

/** Plan: direction, start wall and start line; what it comes to, and why. */

import { h, refill } from '../dom.js';
import { checks, choice, field, sentence, tick } from '../fields.js';
import { formatLength, typedLength } from '../lengths.js';
import { words } from '../strings.js';
import { choices } from './choices.js';
import { compare } from './compare.js';
import { pieceCard } from './piece.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.plan;
const GIVEN_BY_HAND = ['row_angle', 'first_row', 'start_wall', 'laid'];

/** @type {import('../bench.js').Step} */
export const plan = {
  key: 'plan',
  brief: (bench) => {
    const figures = bench.picture?.figures;
    return figures ? w.boards(figures.boards) : '';
  },
  view,
  draw,
  enter: listen,
  live: (bench) => {
    const place = document.getElementById('planfigures');
    if (place) refill(place, figuresOf(bench));
  },
};

/** @param {Bench} bench */
function view(bench) {
  const { picture } = bench;
  if (!bench.measured?.room) return [h('p', {}, words.needsRoom), h('button', { class: 'main', type: 'button', onclick: () => bench.go('measure') }, words.goOn(words.steps.measure))];
  return [
    picture ? h('div', { id: 'planfigures' }, figuresOf(bench)) : !bench.refusal && h('p', { class: 'pencil' }, w.planning),
    bench.refusal && h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${sentence(bench.refusal)}`),
    bench.picked && pieceCard(bench, bench.picked),
    picture && h('p', { class: 'pencil' }, w.dragHow),
    wishes(bench),
    picture && choices(bench),
    picture && compare(bench),
    picture && checks(picture.findings),
    picture && bench.onward('buy'),
  ];
}

/** @param {Bench} bench */
function figuresOf(bench) {
  const { figures, laying } = /** @type {import('../drawing/picture.js').Picture} */ (bench.picture);
  return [
    h('div', { class: 'figures' },
      h('div', {}, h('span', {}, w.boardsWord), h('b', { class: 'figure', id: 'boards' }, figures.boards)),
      h('div', {}, h('span', {}, w.packsWord(figures.per_pack)), h('b', { class: 'figure' }, figures.packs)),
      h('div', {}, h('span', {}, w.narrowestWord), h('b', { class: 'figure' }, figures.narrowest_row ?? '–'))),
    h('p', { class: 'proof', id: 'proof' }, proofOf(bench, figures)),
    h('p', { class: 'pencil' }, w.more(figures)),
    laying.order && h('p', { class: 'pencil', id: 'order' }, laying.order),
  ];
}

/** @param {Bench} bench @param {any} figures */
function proofOf(bench, figures) {
  const { state, told } = bench.planner;
  if (state === 'looking') {
    return [w.looking(told || '0'), ' ', h('button', { class: 'word', type: 'button', onclick: () => bench.planner.enough() }, w.enough)];
  }
  if (state !== 'proven') return w.quick;
  if (figures.status === 'optimal') return w.optimal(figures.boards);
  const fewest = Math.ceil(figures.bound / figures.per_pack) === figures.packs;
  return fewest ? w.fewestPacks(figures.bound, figures.packs) : w.bound(figures.bound);
}

/** @param {Bench} bench */
function wishes(bench) {
  const walls = (bench.measured?.room?.walls ?? []).map((/** @type {any} */ wall) => [wall.name, wall.name.replace('-', '–')]);
  const laying = bench.job.document.laying ?? {};
  const turned = Number(laying.row_angle);
  return [
    h('div', { class: 'two' },
      choice(bench, ['laying', 'start_wall'], w.startWall, [['', w.auto], ...walls], ''),
      choice(bench, ['laying', 'laid'], w.laid, [['', w.auto], ['left-to-right', w.leftToRight], ['right-to-left', w.rightToLeft]], '')),
    h('label', { class: 'field', for: 'turn' }, h('span', {}, w.turn((bench.picture?.laying.row_angle_deg ?? 0) - firstWallDeg(bench))),
      h('input', {
        id: 'turn', type: 'range', min: 0, max: 180, step: 1,
        value: Number.isFinite(turned) ? turned % 180 : Math.round((bench.picture?.laying.row_angle_deg ?? 0) % 180),
        oninput: (/** @type {Event} */ event) => turn(bench, /** @type {HTMLInputElement} */ (event.target).value),
        onchange: () => bench.job.settle(),
      })),
    h('details', { id: 'plan-wishes' }, h('summary', {}, w.wishes),
      choice(bench, ['laying', 'prefer'], w.prefer, [['spares', w.spares], ['looks', w.looks], ['cuts', w.cuts]]),
      choice(bench, ['laying', 'window_wall'], w.window, [['', w.noWindow], ...walls], ''),
      laying.prefer && laying.prefer !== 'spares' && field(bench, ['laying', 'spend_boards'], w.spend, { kind: 'number', empty: w.spendEmpty }),
      doorways(bench),
      lone(bench),
      (bench.job.document.board?.laid_backwards_allowed || bench.job.document.board?.spline_allowed) && field(bench, ['laying', 'begin_row'], w.beginRow, { kind: 'number', help: w.beginRowHelp }),
      tick(bench, ['laying', 'first_rows_together'], w.together),
      tick(bench, ['laying', 'half_at_a_time'], w.half)),
    (laying.row_angle || laying.first_row || laying.start_wall || laying.laid) && h('button', {
      class: 'word', type: 'button',
      onclick: () => bench.job.change('', (document) => { for (const key of GIVEN_BY_HAND) delete document.laying[key]; }),
    }, w.choose),
  ];
}

/** The door one leaves by when the floor is laid. @param {Bench} bench */
function doorways(bench) {
  const doors = bench.job.document.room?.door ?? [];
  if (!doors.length) return null;
  const named = doors.map((/** @type {any} */ door) => [door.name || door.wall, door.name || words.things.inWallWords(door.wall)]);
  return choice(bench, ['laying', 'way_out'], w.wayOut, [['', w.anyDoor], ...named], '');
}

/** How long a row one person tilts in alone: angle locks only. @param {Bench} bench */
function lone(bench) {
  if (bench.job.document.board?.end_lock !== 'angle') return null;
  return field(bench, ['laying', 'longest_alone'], w.alone, { empty: formatLength(4000, bench.job.unit) });
}

/** The direction of wall A–B. @param {Bench} bench */
function firstWallDeg(bench) {
  const wall = bench.measured?.room?.walls[0];
  return wall ? (Math.atan2(wall.to[1] - wall.from[1], wall.to[0] - wall.from[0]) * 180) / Math.PI : 0;
}

/** @param {Bench} bench @param {string} degrees */
function turn(bench, degrees) {
  bench.job.change('turn', (document) => {
    const laying = (document.laying ??= {});
    laying.row_angle = degrees;
    delete laying.start_wall;
    delete laying.first_row;
  });
}

/** @param {Bench} bench */
function draw(bench) {
  const { picture } = bench;
  if (!picture) return;
  const first = bench.planner.isPassing ? bench.chalk.first : picture.figures.first_row_mm;
  bench.chalk.show(picture.laying, picture.board.width_mm, picture.unit, first ?? undefined);
  listen(bench);
}

/** @param {Bench} bench */
function listen(bench) {
  if (bench.kept.chalk) return;
  bench.kept.chalk = true;
  const { chalk } = bench;
  const first = () => typedLength(chalk.first, bench.job.unit);
  const drag = () => bench.planner.drag({ first_row: first() });
  // where the hand takes it the plan is asked for before the hand moves
  chalk.addEventListener('take', () => chalk.held && drag());
  chalk.addEventListener('move', drag);
  chalk.addEventListener('rest', () => {
    bench.job.change('first row', (document) => { (document.laying ??= {}).first_row = first(); });
    bench.planner.rested();
  });
}

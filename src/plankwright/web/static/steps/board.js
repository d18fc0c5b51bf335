/** Choose the board: its size, its lock, and the rules on its leaflet. */

import { h } from '../dom.js';
import { checks, choice, field, tick } from '../fields.js';
import { formatLength } from '../lengths.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.board;

/** @type {import('../bench.js').Step} */
export const board = {
  key: 'board',
  brief: (bench) => {
    const { length, width } = bench.job.document.board ?? {};
    return length && width ? `${length} × ${width}` : '';
  },
  view,
};

/** @param {Bench} bench */
function view(bench) {
  const handed = bench.job.document.board?.lock !== 'reversible';
  const set = bench.job.document.board ?? {};
  return [
    h('p', {}, w.how),
    h('div', { class: 'two' }, field(bench, ['board', 'length'], w.length), field(bench, ['board', 'width'], w.width)),
    h('div', { class: 'two' },
      field(bench, ['board', 'per_pack'], w.perPack, { kind: 'number', empty: '8' }),
      field(bench, ['rules', 'gap'], w.gap, { empty: usual(bench, 8) })),
    h('h3', {}, w.lock),
    choice(bench, ['board', 'lock'], w.kind, [['handed', w.handed], ['reversible', w.reversible]]),
    handed && choice(bench, ['board', 'start_side'], w.startSide, [['tongue', w.tongue], ['groove', w.groove]]),
    handed && choice(bench, ['board', 'tongue_end'], w.tongueEnd, [['left', w.left], ['right', w.right]]),
    handed && choice(bench, ['board', 'end_lock'], w.endLock, [['drop', w.drop], ['angle', w.angle], ['tap', w.tap], ['loose', w.loose]]),
    handed && h('details', { id: 'board-allowed' }, h('summary', {}, w.allowed), allowed(bench, set)),
    h('details', { id: 'board-rules' }, h('summary', {}, w.rules),
      h('div', { class: 'two' },
        field(bench, ['rules', 'shortest_piece'], w.shortest, { empty: usual(bench, 300) }),
        field(bench, ['rules', 'joint_offset'], w.offset, { empty: usual(bench, 300) })),
      h('div', { class: 'two' },
        field(bench, ['rules', 'narrowest_row'], w.narrowest, { empty: usual(bench, 50) }),
        field(bench, ['rules', 'trim_cover'], w.cover, { empty: usual(bench, 16) })),
      field(bench, ['rules', 'least_gap'], w.leastGap, { empty: w.asPlanned, help: w.leastGapHelp }),
      h('div', { class: 'two' },
        field(bench, ['rules', 'kerf'], w.kerf, { empty: usual(bench, 3) }),
        field(bench, ['rules', 'allowance'], w.allowance, { empty: usual(bench, 3), help: w.allowanceHelp })),
      field(bench, ['board', 'thickness'], w.thickness)),
    h('details', { id: 'board-long' }, h('summary', {}, w.long), longFloor(bench)),
    refusalOf(bench),
    bench.measured?.room ? bench.onward('plan') : h('p', { class: 'pencil' }, words.needsRoom),
  ];
}

/** What lock and leaflet allow; nothing is taken as allowed that is not ticked. @param {Bench} bench @param {any} set */
function allowed(bench, set) {
  return [
    h('p', { class: 'pencil' }, w.allowedHow),
    set.end_lock === 'angle' && tick(bench, ['board', 'either_way'], w.eitherWay),
    tick(bench, ['board', 'laid_backwards_allowed'], w.backwards),
    tick(bench, ['board', 'spline_allowed'], w.spline),
    tick(bench, ['board', 'shave_and_glue_allowed'], w.shave),
    field(bench, ['board', 'tilt'], w.tilt, { kind: 'number', empty: '25', help: w.tiltHelp }),
  ];
}

/** How far the floor may float without an expansion break. @param {Bench} bench */
function longFloor(bench) {
  return [
    h('p', { class: 'pencil' }, w.longHow),
    h('div', { class: 'two' },
      field(bench, ['breaks', 'longest_along'], w.longestAlong, { empty: w.notSaid }),
      field(bench, ['breaks', 'longest_across'], w.longestAcross, { empty: w.notSaid })),
    tick(bench, ['breaks', 'in_doorways'], w.inDoorways),
    tick(bench, ['breaks', 'in_necks'], w.inNecks),
    h('div', { class: 'two' },
      field(bench, ['breaks', 'neck'], w.neck, { empty: usual(bench, 1200) }),
      field(bench, ['breaks', 'stem'], w.stem, { empty: usual(bench, 8) })),
  ];
}

/** The usual length, in the unit of the job. @param {Bench} bench @param {number} mm */
function usual(bench, mm) {
  return formatLength(mm, bench.job.unit);
}

/** @param {Bench} bench */
function refusalOf(bench) {
  const refusal = bench.measured?.refusal;
  const here = refusal && (['board', 'rules', 'breaks'].some((table) => refusal.where.startsWith(table)));
  return here ? checks([{ code: 'refused', ...refusal }]) : null;
}

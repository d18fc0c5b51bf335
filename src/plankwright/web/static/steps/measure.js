/** Measure: walls read off the tape or drawn, diagonals, fixed things and doors. */

import { h } from '../dom.js';
import { bareField, checks, choice, placeOf, sentence, toldAt } from '../fields.js';
import { words } from '../strings.js';
import { cornerAngles, eachAngle } from './angles.js';
import { cornerGrips, drawnFields, startDrawing } from './corners.js';
import { meetingGrips, meetingRooms } from './meeting.js';
import { stringLines } from './string_lines.js';
import { pointsInside, tapeAccuracy } from './points.js';
import { RoomFile } from './room_file.js';
import { fixedThings, thingGrips } from './things.js';
import { freePairs, isGrowing, setWalls, typedWalls } from './tape.js';

/** @typedef {import('../bench.js').Bench} Bench */

const w = words.measure;

/** @type {import('../bench.js').Step} */
export const measure = {
  key: 'measure',
  brief: (bench) => bench.measured?.room?.area ?? '',
  view,
  draw: (bench) => bench.grips.show([...cornerGrips(bench), ...thingGrips(bench), ...meetingGrips(bench)]),
};

/** @param {Bench} bench */
function view(bench) {
  const { tape } = bench;
  const drawn = Boolean(bench.job.document.room?.outline);
  const begun = drawn || tape.walls.length > 0;
  return [
    !begun && h('p', {}, w.begin),
    h('div', { class: 'two' }, unitField(bench), !drawn && tape.walls.length > 0 && cornerAngles(bench)),
    !drawn && tape.walls.length > 0 && eachAngle(bench),
    !drawn && tape.walls.length > 0 && orderField(bench),
    drawn ? drawnFields(bench) : wallFields(bench),
    !drawn && !bench.knownRoom && otherWays(bench),
    !drawn && tape.corners.length > 3 && isClosed(bench) && !isGrowing(bench) && [diagonalFields(bench), bench.knownRoom && [pointsInside(bench), stringLines(bench), tapeAccuracy(bench)]],
    isGrowing(bench) ? h('p', { class: 'pencil' }, w.growing) : (drawn || isClosed(bench)) && verdict(bench),
    bench.knownRoom && !isGrowing(bench) && [fixedThings(bench), meetingRooms(bench)],
    bench.measured?.room && !isGrowing(bench) && bench.onward('slab'),
  ];
}

/** Whether the walls typed so far lead back to A. @param {Bench} bench */
function isClosed(bench) {
  const { walls, corners } = bench.tape;
  return corners.length > 2 && (Array.isArray(bench.job.document.room?.walls) || typedWalls(walls) === corners.length);
}

/** Without a tape: the room drawn by hand, or taken from a drawing. @param {Bench} bench */
function otherWays(bench) {
  const file = (bench.kept.roomFile ??= new RoomFile(() => bench.fillColumn(), (room) => takeRoom(bench, room)));
  file.toldIn = bench.job.unit;
  return [
    h('p', { class: 'row' },
      h('button', { class: 'word', type: 'button', onclick: () => startDrawing(bench) }, w.drawInstead),
      file.field('word')),
    !file.file && h('p', { class: 'pencil' }, words.drawings.how),
    file.view(),
  ];
}

/** The room of a drawing becomes the job's. @param {Bench} bench @param {import('./room_file.js').FoundRoom} room */
function takeRoom(bench, room) {
  bench.kept.roomFile.close();
  bench.job.change('', (document) => {
    document.room = room.document.room;
    document.job = { ...room.document.job, ...document.job, name: document.job?.name || room.document.job.name };
    delete document.laying;
  });
  bench.say(words.drawings.taken(room.name));
}

/** @param {Bench} bench */
function unitField(bench) {
  return choice(bench, ['job', 'unit'], w.unit, [['in', w.units.in], ['ft', w.units.ft], ['mm', w.units.mm], ['cm', w.units.cm], ['m', w.units.m]], 'mm');
}

/** Which way round the walls are passed. @param {Bench} bench */
function orderField(bench) {
  return choice(bench, ['room', 'order'], w.order, [['anticlockwise', w.rightHand], ['clockwise', w.leftHand]]);
}

/** @param {Bench} bench */
function wallFields(bench) {
  const { tape } = bench;
  const count = typedWalls(tape.walls);
  const rows = [...tape.walls.slice(0, count), ''];
  const closed = tape.corners.length === count;
  const asList = Array.isArray(bench.job.document.room?.walls);
  return [
    h('p', { class: 'pencil' }, w.how(bench.job.document.room?.order === 'clockwise')),
    ...rows.map((value, i) => {
      const isNew = i === count;
      const last = closed && i === count - 1;
      const name = isNew ? '' : `${tape.corners[i]}-${tape.corners[(i + 1) % tape.corners.length]}`;
      const { told, bad } = isNew ? { told: '', bad: false } : toldAt(bench, ['room', 'walls', asList ? i : name]);
      const label = isNew ? w.nextWall : w.wall(name);
      const input = h('input', {
        id: `wall-${i}`, type: 'text', autocomplete: 'off', 'aria-label': label, 'aria-invalid': bad ? 'true' : null,
        value: Array.isArray(value) ? value.join('; ') : value,
        placeholder: isNew ? (i ? w.another : w.example[/** @type {'mm'} */ (bench.job.unit)]) : w.notMeasured,
        'aria-describedby': `wall-${i}-told`,
        oninput: (/** @type {Event} */ event) => typeWall(bench, i, /** @type {HTMLInputElement} */ (event.target).value),
        onblur: () => bench.job.settle(),
        onkeydown: (/** @type {KeyboardEvent} */ event) => {
          if (event.key === 'Enter') document.getElementById(`wall-${i + 1}`)?.focus();
        },
      });
      return h('div', { class: 'wallrow' },
        h('span', { class: 'name' }, isNew ? '' : `${name.replace('-', '–')}`),
        input,
        h('span', { class: 'pencil' }, last ? w.closes : ''),
        h('span', { class: bad ? 'told bad' : 'told', id: `wall-${i}-told` }, told));
    }),
    count === 3 && h('p', {}, h('button', {
      class: 'word', type: 'button',
      onclick: () => bench.job.change('', (document) => setWalls(document, tape.walls, !closed)),
    }, closed ? w.fourth : w.threeWalls)),
  ];
}

/** @param {Bench} bench @param {number} index @param {string} typed */
function typeWall(bench, index, typed) {
  const { walls: before, corners } = bench.tape;
  const count = typedWalls(before);
  const walls = before.slice(0, count);
  const parts = typed.split(';').map((part) => part.trim()).filter(Boolean);
  walls[index] = parts.length > 1 ? parts : typed;
  bench.job.change(`wall-${index}`, (document) => setWalls(document, walls, corners.length === 3 && count === 3));
}

/** @param {Bench} bench */
function diagonalFields(bench) {
  const { tape } = bench;
  const next = bench.measured?.survey?.next[0];
  const pairs = freePairs(tape);
  const offered = next && pairs.includes(next.name) ? next.name : pairs[0];
  const chosen = pairs.includes(bench.kept.pair) ? bench.kept.pair : offered;
  return [
    h('h3', {}, w.diagonals),
    ...tape.diagonals.map(([name]) => h('div', { class: 'pairrow' },
      h('span', { class: 'name' }, name.replace('-', '–')),
      bareField(bench, ['room', 'diagonals', name], w.diagonal(name)))),
    next && !bench.measured.survey.is_enough
      ? h('p', { class: 'why' }, h('b', {}, w.next(next.name.replace('-', '–'), next.about)), ' ', w.nextWhy(next.before, next.after))
      : h('p', { class: 'pencil' }, w.diagonalsHow),
    chosen && h('div', { class: 'pairrow' },
      h('select', {
        id: 'newpair', 'aria-label': w.whichDiagonal,
        onchange: (/** @type {Event} */ event) => { bench.kept.pair = /** @type {HTMLSelectElement} */ (event.target).value; bench.fillColumn(); },
      }, pairs.map((pair) => h('option', { value: pair, selected: pair === chosen }, pair.replace('-', '–')))),
      h('input', {
        id: 'newdiagonal', type: 'text', autocomplete: 'off', 'aria-label': w.diagonal(chosen), placeholder: w.newDiagonal,
        onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && addDiagonal(bench, chosen),
      }),
      h('button', { class: 'other', type: 'button', id: 'adddiagonal', onclick: () => addDiagonal(bench, chosen) }, w.addDiagonal)),
  ];
}

/** @param {Bench} bench @param {string} pair */
function addDiagonal(bench, pair) {
  const input = /** @type {HTMLInputElement | null} */ (document.getElementById('newdiagonal'));
  const typed = input?.value.trim();
  if (!input || !typed) return;
  input.value = '';
  bench.kept.pair = '';
  bench.job.change('', (document) => {
    ((document.room ??= {}).diagonals ??= {})[pair] = typed;
  });
  bench.say(w.added(pair));
}

/** What to trust, what to check. @param {Bench} bench */
function verdict(bench) {
  const found = bench.measured;
  const survey = found?.survey;
  const refusal = found?.refusal;
  const shown = survey ? survey.findings : (found?.findings ?? []);
  return [
    survey?.is_enough && survey.sure && h('p', { class: 'why' }, h('b', {}, w.sure), ' ', w.sureWhy(survey.worst)),
    ...checks(shown.filter((/** @type {any} */ f) => f.code !== 'assumed-board')),
    refusal && !found.room && !isTold(found, refusal)
      && h('div', { class: 'check' }, h('b', {}, words.checkThis), `: ${sentence(refusal)}`),
  ];
}

/** Whether a refusal stands already at the field it belongs to. @param {any} found @param {any} refusal */
function isTold(found, refusal) {
  const ownField = ['room.angles.', 'room.tape.', 'room.ties.'].some((place) => placeOf(refusal).startsWith(place));
  return ownField || Object.values(found.lengths).some((/** @type {any} */ length) => length.refusal)
    || found.survey?.findings.some((/** @type {any} */ f) => refusal.message.includes(f.message));
}

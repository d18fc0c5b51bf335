/** What the page says: lay, mishaps. */

import { formatLength } from '../lengths.js';

/** @type {Record<string, string>} */
const happenings = {
  'piece-cut': 'cut', 'piece-laid': 'laid', 'piece-spoiled': 'spoiled', 'board-damaged': 'board damaged',
  'offcut-thrown': 'offcut lost', 'distance-measured': 'measured', noted: 'note', 'piece-lifted': 'lifted',
  'check-made': 'the check', 'boards-opened': 'the pack', 'plan-taken': 'the new plan', photographed: 'photograph',
};

export const lay = {
  brief: (/** @type {number} */ laid, /** @type {number} */ all) => `${laid} of ${all} pieces lie`,
  beginHow: 'A card at a time: what to take, where to cut, which end to keep, where it goes. Tick it off, and the next one comes. It goes on working when the network goes.',
  careTitle: 'Before you begin',
  care: [
    'Saw: let the guard work, clamp short pieces, never rip freehand; goggles and hearing protection.',
    'Dust of mineral cores and of concrete harms lungs for good: extraction and a fitted mask.',
    'Packs are heavier than they look: carry half, bend the knees, or be two.',
    'Local codes and the leaflet of your board go before anything said here.',
  ],
  begin: 'Begin to lay this plan',
  cut: 'It is cut',
  laid: 'It is laid',
  rowDone: (/** @type {number} */ row) => `All of row ${row} is laid`,
  takeBack: (/** @type {any} */ event) => `Take back: ${event.piece ?? event.label ?? ''} ${happenings[event.kind] ?? 'note'}`,
  bringBack: (/** @type {any} */ event) => `Bring back: ${event.piece ?? event.label ?? ''} ${happenings[event.kind] ?? 'note'}`,
  pictureOf: (/** @type {string} */ piece) => `The board at the saw for piece ${piece}; what is crossed out is not this piece`,
  waiting: (/** @type {number} */ n) => n ? `No network: ${n === 1 ? 'one thing waits' : `${n} things wait`} on this device and will be delivered in order.` : 'No network. You can go on; everything is kept on this device.',
  refused: 'The server does not take what waits here:',
  doneTitle: 'The floor lies',
  done: 'Every piece lies. The trim comes next.',
  shelf: (/** @type {number} */ n) => `On the shelf: ${n === 1 ? 'one offcut' : `${n} offcuts`}`,
  offcut: (/** @type {any} */ offcut, /** @type {string} */ unit) => formatLength(offcut.length_mm, unit),
  packs: (/** @type {number} */ n) => n ? `Packs opened: ${n}` : 'Packs opened, with their batches',
  pack: (/** @type {string} */ name, /** @type {any} */ pack) => `Pack ${name}: ${pack.opened} boards${pack.batch ? `, batch ${pack.batch}` : ''}`,
  batch: 'Batch number on the pack', openPack: 'A pack is opened',
  phoneTitle: 'A file for the phone: works with no network at all',
  phoneHow: 'One file holds drawing and cards. Open it on the phone, tick off what is done; it gives a file back with everything that happened.',
  phoneFile: 'Save the phone file', givenBack: 'Bring in what the phone gave back',
  cameBack: (/** @type {number} */ n) => `${n} things came back from the phone.`,
  checkDone: 'All is as it should be',
  measureRow: (/** @type {number} */ row) => `From the room side of row ${row} to the far wall:`,
  ends: { near: 'at the near end', far: 'at the far end' },
  forecast: (/** @type {string[]} */ ends) => `If the rows go on like this, the last row will be ${[...new Set(ends)].join(' to ')} wide.`,
  aside: 'two devices wrote down what cannot both have happened. The later one was set aside:',
};

export const mishaps = {
  title: 'Something went wrong',
  spoiled: (/** @type {string} */ piece) => `Piece ${piece} was cut wrong`,
  boardDamaged: 'A new board is damaged',
  lost: 'Offcut lost',
  isLost: 'It is lost',
  farWall: (/** @type {number} */ row) => `From the room side of row ${row} to the far wall`,
  ends: { near: 'at the near end', far: 'at the far end' },
  writeDown: 'Write it down',
  moved: 'A wall is not where it was planned',
  wall: 'Wall', nearer: 'nearer by (minus: farther)',
  movedNote: (/** @type {string} */ wall, /** @type {string} */ by) => `Wall ${wall} stands nearer by ${by}`,
  answer: (/** @type {any} */ a) => a.boards_missing
    ? `Planned again: ${a.boards_missing === 1 ? 'one board is' : `${a.boards_missing} boards are`} missing, ${a.packs_missing === 1 ? 'one pack' : `${a.packs_missing} packs`}.`
    : `Planned again: ${a.new_boards === 1 ? 'one new board' : `${a.new_boards} new boards`} for the rest${a.proven ? '; no plan that keeps what lies takes fewer' : ''}.`,
  changes: (/** @type {number} */ n) => n === 1 ? 'One place is different now' : `${n} places are different now`,
  note: 'A note',
  writtenDown: 'Written down. Nothing that lies has to come up: the rest is planned again from here.',
  planAgain: 'Plan the rest again',
  planning: 'Planning the rest …',
};

/** Every English word of the phone's page, in one place. */

import { formatLength } from './lengths.js';

export const WORDS = {
  left: (/** @type {number} */ count) => (count === 1 ? 'the last one' : `${count} left`),
  done: 'Laid', doneCut: 'Cut and laid', onlyCut: 'Only cut', other: 'Something else', takeBack: 'Take back',
  back: (/** @type {string} */ told) => `Taken back: ${told}.`,
  written: (/** @type {string[]} */ told) => (told.length ? `Written down: ${told.join(', ')}.` : ''),
  row: (/** @type {number} */ row) => `row ${row},`,
  marked: (/** @type {string} */ mark) => `as ${mark}`,
  wrongEndKept: (/** @type {string[]} */ marks) => (
    `Mark what you cut ${marks.join(' and ')}, shelve it, cut again. Plan again later: another use may be found.`),
  inHand: 'It is cut already',
  finished: 'Every piece lies.',
  finishedMore: 'Give the log back, then: spacers out, trim on.',
  checkTitle: 'Check', checkGood: 'All is good', farWall: 'Measure far wall',
  lastRow: (/** @type {number[]} */ mm, /** @type {string} */ unit) => (
    `The last row will be ${formatLength(Math.max(mm[0], 0), unit)} where rows begin and ${formatLength(Math.max(mm[1], 0), unit)} where they end.`),
  openJoints: 'Joints are open: close them before you lay another row, then measure again.',
  misread: 'The rows cannot cover that: count them, and measure again from the face edge of the last one.',
  narrowRow: 'That is too narrow: plan again before you go on.',
  behind: 'The log goes on with another plan: make a new file for this phone.',
  cutsTitle: 'Cuts for one walk', cutNow: 'Cut', noCuts: 'Nothing is left to cut.',
  happened: 'What happened?',
  menu: {
    cuts: 'Cut more on this walk', wrongEnd: 'I kept the wrong end', spoiled: 'The piece is spoiled', damaged: 'A laid piece is damaged',
    damagedBoard: 'A new board is damaged', lifted: 'I lifted a piece', measured: 'I measured to the far wall',
    gap: 'I checked a gap', locked: 'A row is straight and locked', opened: 'I opened a pack',
    photograph: 'Take a photograph', found: 'I found an offcut', thrown: 'An offcut is gone', note: 'Write a note',
  },
  fields: {
    piece: 'Piece, such as 3.1.2', row: 'Row', end: 'End', length: 'Length', place: 'Where',
    pack: 'Pack', batch: 'Batch', boards: 'Boards', letter: 'Letter', text: 'Note',
    ends: 'Factory ends that it has',
  },
  ends: { near: 'the end laid first', far: 'the other end', both: 'both', none: 'none' },
  rowEnds: { near: 'where the row begins', far: 'where it ends' },
  write: 'Write it down', close: 'Close',
  log: 'Log', give: 'Give the log back', giveMore: 'Saves one file with everything written down here.',
  takeIn: 'Take in another phone’s file', empty: 'Nothing is written down yet.',
  tookBack: 'taken back', setAside: 'Check this',
  took: (/** @type {number} */ count) => `${count} events taken in.`,
  noLength: 'Cannot read this as a length.', noRow: 'A row is a whole number.', noText: 'Write something first.',
  notKept: 'This browser keeps nothing: give the log back before you close the page.',
  notWritten: 'Not written down: the phone’s storage is full. Give the log back, make room, do it again.',
  photographed: 'The photograph is kept; it goes into the file that is given back.',
  noPhoto: 'The photograph could not be kept.',
  kinds: /** @type {Record<string, string>} */ ({
    'boards-opened': 'pack opened', 'piece-cut': 'cut', 'piece-laid': 'laid', 'piece-spoiled': 'spoiled',
    'piece-shelved': 'put on the shelf', 'piece-damaged': 'damaged', 'board-damaged': 'board damaged',
    'piece-lifted': 'lifted', 'offcut-found': 'offcut found', 'offcut-thrown': 'offcut gone',
    'distance-measured': 'measured', 'gap-checked': 'gap checked', 'row-locked': 'row locked',
    'check-made': 'check made', 'plan-taken': 'another plan', noted: 'note', photographed: 'photograph',
  }),
};

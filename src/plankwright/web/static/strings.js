/** Every English word the page says, in one place: the parts stand in the folder beside it. */

import { board } from './strings/board.js';
import { bowed } from './strings/bowed.js';
import { buy } from './strings/buying.js';
import { drawings } from './strings/drawings.js';
import { lay, mishaps } from './strings/laying.js';
import { list } from './strings/list.js';
import { measure, things } from './strings/measuring.js';
import { meeting } from './strings/meeting.js';
import { choices, compare, piece, plan } from './strings/planning.js';
import { repair } from './strings/repairing.js';
import { pair, share } from './strings/sharing.js';
import { slab } from './strings/slab.js';
import { tell, trim } from './strings/telling.js';
import { tying } from './strings/tying.js';

export const words = {
  app: 'Plankwright',
  away: 'The server cannot be reached. Start it again, and load this page again.',
  jobs: 'Jobs',
  jobName: 'Name of the job',
  undo: 'Undo',
  redo: 'Redo',
  nameless: 'Job without a name',
  more: (/** @type {number} */ n) => ` and ${n} more`,
  needsRoom: 'Measure the room first.',
  takeTheirs: 'Show theirs', keepMine: 'Keep mine',
  keptWords: {
    kept: 'Saved',
    keeping: 'Saving …',
    away: 'No network: kept on this device',
    'changed elsewhere': 'Changed on another device',
    refused: 'Not saved: check the last entry',
  },
  steps: {
    measure: 'Measure', slab: 'Check the slab', board: 'Choose the board', plan: 'Plan',
    buy: 'Buy', lay: 'Lay', trim: 'Trim', tell: 'Keep and tell',
  },
  hints: { plan: 'Drag the chalk line' },
  view: { whole: 'Whole room', closer: 'Closer', back: 'Back to the floor', larger: 'Larger, smaller' },
  checkThis: 'Check this',
  goOn: (/** @type {string} */ step) => `Go on: ${step.charAt(0).toLowerCase()}${step.slice(1)}`,
  print: 'Print',
  noNetwork: 'There is no network',
  measure, tying, bowed, things, meeting, drawings, slab, board, plan, piece, list, buy, lay, mishaps, repair, choices, compare, pair, share,
  trim, tell,
};

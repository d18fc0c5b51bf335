/** The eight steps of the job, in the trade's own order. */

import { board } from './board.js';
import { buy } from './buy.js';
import { lay } from './lay.js';
import { measure } from './measure.js';
import { plan } from './plan.js';
import { slab } from './slab.js';
import { tell } from './tell.js';
import { trim } from './trim.js';

/** @type {import('../bench.js').Step[]} */
export const stepsInOrder = [measure, slab, board, plan, buy, lay, trim, tell];

/** What the page says: plan, choices, compare, piece. */

/** @param {any} f */
function looks(f) {
  const h = f.h_joints === 1 ? 'one H-joint' : `${f.h_joints || 'no'} H-joints`;
  const stairs = f.stairs === 1 ? 'one stair-step' : `${f.stairs || 'no'} stair-steps`;
  return `${h}, ${stairs}`;
}

/** How far the number of boards of a choice is proven. @param {any} c */
function proof(c) {
  if (c.status === 'optimal' && c.boards === c.bound) return 'No plan with these rows needs fewer boards.';
  const needed = `At least ${c.bound} boards are needed with these rows`;
  if (c.boards === c.bound) return `${needed}.`;
  const spent = /** @type {Record<string, string>} */ ({ looks: 'looks', cuts: 'fewer cuts' })[c.laying.prefer];
  if (spent) return `${needed}; the others are spent on ${spent}.`;
  return `${needed}; whether ${c.boards} are the fewest is not proven yet. Take it, and the proof goes on.`;
}

export const plan = {
  planning: 'Laying it out …',
  boards: (/** @type {number} */ n) => `${n} boards`,
  boardsWord: 'Boards',
  packsWord: (/** @type {number} */ n) => `Packs of ${n}`,
  narrowestWord: 'Narrowest row',
  quick: 'A good plan at once; when your hand rests the best one is looked for.',
  looking: (/** @type {string} */ s) => `Looking for fewer boards, and for the proof: ${s} s`,
  enough: 'Enough',
  optimal: (/** @type {number} */ n) => `No plan with these rows needs fewer than ${n} boards. That is proven, and checked by a second program.`,
  fewestPacks: (/** @type {number} */ bound, /** @type {number} */ packs) => `At least ${bound} boards are needed, so no plan with these rows needs fewer than ${packs} packs.`,
  bound: (/** @type {number} */ n) => `At least ${n} boards are needed, whatever the plan.`,
  more: (/** @type {any} */ f) => `${f.rows} rows, first ${f.first_row ?? '–'}, last ${f.last_row ?? '–'}. ${f.cut_pieces} pieces to cut; shortest ${f.shortest_piece ?? '–'}; joints at least ${f.joint_offset ?? '–'} apart, ${looks(f)}. ${f.spares === 1 ? 'One spare board' : `${f.spares || 'No'} spare boards`}; ${f.waste_pct} % over the floor’s area.`,
  dragHow: 'Drag the blue chalk line to move the rows. Tap a piece to see where it is cut from.',
  startLine: 'Start line: where row 1 ends',
  firstRow: (/** @type {string} */ told) => `Row 1: ${told} wide`,
  startWall: 'Row 1 lies at wall',
  laid: 'Laid',
  auto: 'as is best',
  leftToRight: 'left to right',
  rightToLeft: 'right to left',
  turn: (/** @type {number} */ degrees) => `Rows run at ${((Math.round(degrees) % 180) + 180) % 180}° to wall A–B`,
  choose: 'Let the program choose again',
  wishes: 'More wishes',
  prefer: 'Boards below the next pack are', spares: 'kept as spares', looks: 'spent on looks', cuts: 'spent on fewer cuts',
  window: 'The main window is in wall', noWindow: 'none',
  spend: 'At most so many boards spent so', spendEmpty: 'what the last pack has left',
  wayOut: 'When the floor is laid you leave by', anyDoor: 'any door',
  alone: 'Longest row one person tilts in alone',
  beginRow: 'Begin with row', beginRowHelp: 'From a snapped line; the rows before it are laid backwards. Empty: with row 1.',
  together: 'Lay rows 1 and 2 together, to keep them straight', half: 'Furniture stays in one half of the room',
};

export const choices = {
  title: 'Choices',
  show: 'Show other ways to lay it',
  again: 'Look again',
  looking: 'Every way worth trying is laid out …',
  figures: (/** @type {any} */ c) => `${c.boards} boards, ${c.packs} packs, narrowest row ${c.narrowest_row}, ${c.cuts} cuts`,
  proof,
  refused: (/** @type {number} */ n) => `${n === 1 ? 'one plan was' : `${n} plans were`} left out: the checker that looks at every plan refused ${n === 1 ? 'it' : 'them'}. That is a fault of this program, not of your room; what is shown here has passed.`,
  refusedWhy: 'What the checker said',
  take: (/** @type {number} */ n) => `Take choice ${n}`,
  taken: 'This one is taken',
  isTaken: (/** @type {string} */ title) => `${title}: taken.`,
  chartTitle: 'Where row 1 ends, and what it comes to.',
  chartHow: 'Press a place to move the start line there.',
  boards: 'Boards', narrowest: 'Narrowest row', axis: 'width of row 1',
  point: (/** @type {any} */ p) => `Row 1 ${p.first_row}: ${p.boards} boards, narrowest row ${p.narrowest_row}`,
  chartWords: (/** @type {any} */ _, /** @type {any} */ best) => `Boards and narrowest row against the width of row 1. Fewest boards: ${best.boards}, with row 1 ${best.first_row} wide.`,
};

export const compare = {
  title: 'Two plans compared',
  layAside: 'Lay this plan aside to compare with another',
  then: 'Laid aside', now: 'Now',
  boards: 'Boards', packs: 'Packs', narrowest: 'Narrowest row', shortest: 'Shortest piece', joints: 'Joints apart', hJoints: 'H-joints', stairs: 'Stair-steps', cuts: 'Pieces to cut', rips: 'Rips', over: 'Over the floor',
  goBack: 'Go back to the one laid aside', forget: 'Forget it',
};

export const piece = {
  kinds: { whole: 'whole board', starter: 'starter', 'end-piece': 'end piece', 'wall-to-wall': 'wall to wall' },
  title: (/** @type {string} */ id, /** @type {string} */ kind, /** @type {string} */ length) => `${id}: ${kind}, ${length}`,
  all: 'Pieces: the arrow keys go from piece to piece',
  fromOffcut: (/** @type {string} */ label) => `Cut from offcut ${label}, off the shelf.`,
  whole: 'A new board, whole.',
  fromNew: 'Cut from a new board.',
  goesTo: (/** @type {string} */ ids) => `The same board also gives ${ids}.`,
  pictureWords: (/** @type {string} */ length) => `The board, ${length} long, with the pieces cut from it`,
};

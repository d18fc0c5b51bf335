/** What the page says: repair. */

/** Minutes as a person says them: to 5 minutes, hours above an hour and a half. @param {number} minutes */
function time(minutes) {
  const whole = Math.max(5 * Math.round(minutes / 5), 5);
  if (whole <= 90) return `${whole} min`;
  const over = whole % 60;
  return over ? `${Math.floor(whole / 60)} h ${over} min` : `${whole / 60} h`;
}

/** @param {number[]} rows */
function rowsOf(rows) {
  return rows.length === 1 ? `Row ${rows[0]}` : `Rows ${rows[rows.length - 1]} to ${rows[0]}`;
}

export const repair = {
  how: 'A board that lies must come out? Tap it on the drawing.',
  comesOut: 'This board must come out',
  too: 'This board must come out, too',
  title: (/** @type {string[]} */ pieces) => `To get ${pieces.join(' and ')} out`,
  asking: 'Looking what has to come up …',
  ways: { lift: 'Lift the rows and lay them again', 'cut out': 'Cut it out where it lies, glue a new one in' },
  takes: (/** @type {any} */ way) => `${way.boards === 1 ? 'one new board' : way.boards ? `${way.boards} new boards` : 'no new board'}, about ${time(way.minutes)}`,
  comesUp: (/** @type {any} */ a) => `${rowsOf(a.rows)} come${a.rows.length === 1 ? 's' : ''} up, ${a.lifted.length === 1 ? 'one piece' : `${a.lifted.length} pieces`}: they have a broken blue line on the drawing.`,
  inPlace: 'Nothing else comes up.',
  offcuts: (/** @type {[string, string][]} */ found) => `${found.map(([piece, letter]) => `${piece} can be cut from offcut ${letter}`).join(', ')}.`,
  better: 'Less work',
  because: { lift: 'The floor stays as it was, free to move and to be lifted again.', 'cut out': 'Far too much would have to come up for it.' },
  steps: 'What to do',
  labels: 'What to write on each piece, as it comes up',
  order: 'The order in which they go back',
  row: (/** @type {string} */ row) => `Row ${row}`,
  anew: (/** @type {string} */ piece) => `${piece} (new)`,
  minutes: 'Where the minutes come from',
  lifted: 'They are lifted: lay them again by their cards',
  replaced: 'It is cut out and replaced',
  replacedNote: (/** @type {string} */ piece) => `${piece} was cut out where it lay, and a new one was glued in`,
  liftedDown: 'Written down. The rest is planned again from what still lies.',
  leave: 'Leave it where it is',
};

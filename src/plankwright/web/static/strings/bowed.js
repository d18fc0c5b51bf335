/** What the page says: walls that are not straight. */

export const bowed = {
  title: 'Walls that are not straight',
  how: 'Stretch a string along the wall from corner to corner, held off it by a block of the same thickness at both ends, and measure from string to wall in some places. More than the block: the wall bows out of the room.',
  wall: (/** @type {string} */ name) => `String along wall ${name}`,
  which: 'Wall',
  add: 'Add a string',
  added: (/** @type {string} */ name) => `A string along wall ${name}: type what you measure.`,
  block: 'Thickness of the blocks',
  along: (/** @type {string} */ corner) => `From ${corner} along the wall`,
  gap: 'From string to wall',
  more: 'Add a place',
  less: 'Take the last place out',
  takeOut: 'Take the string away',
};

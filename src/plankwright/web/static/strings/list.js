/** What the page says: list. */

export const list = {
  what: 'A floating click-together floor, from the tape to the last strip of trim.',
  newJob: 'Start a job',
  demo: 'Play with the demo room',
  empty: 'No jobs yet. Start one with a tape in your hand, or play with the demo room first: nothing can be broken.',
  bring: 'Bring in a job file or a drawing',
  copy: 'Copy',
  file: 'Job file',
  remove: 'Put away',
  copyOf: (/** @type {string} */ name) => `Copy ${name}`,
  fileOf: (/** @type {string} */ name) => `Job file of ${name}`,
  removeOf: (/** @type {string} */ name) => `Put away ${name}`,
  copyName: (/** @type {string} */ name) => `${name}, second try`,
  putAway: 'Put away', takeOut: 'Take out again',
  whole: 'Everything', wholeOf: (/** @type {string} */ name) => `Everything of ${name}`,
  changed: (/** @type {Date} */ when) => when.toLocaleDateString('en-US', { month: 'short', day: 'numeric' }),
  place: (/** @type {string} */ place) => `Your jobs lie in ${place} on this computer.`,
  away: 'The server cannot be reached. What this device remembers can be looked at.',
};

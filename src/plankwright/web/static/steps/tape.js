/** The tape survey of a document as a person types it: walls one after the other, diagonals. */

/** @typedef {{corners: string[], walls: any[], diagonals: [string, any][], isTape: boolean}} Tape */

/** Corner names A, B, … Z, AA, … @param {number} index */
export function cornerName(index) {
  let name = '';
  for (let i = index + 1; i > 0; i = Math.floor((i - 1) / 26)) {
    name = String.fromCharCode(65 + ((i - 1) % 26)) + name;
  }
  return name;
}

/**
 * @param {any} document
 * @returns {Tape}
 */
export function tapeOf(document) {
  const room = document.room ?? {};
  const isTape = !room.outline;
  const given = room.walls ?? {};
  if (Array.isArray(given)) {
    const corners = given.map((_, i) => cornerName(i));
    return { corners, walls: given.map((v) => (v === 'unknown' ? '' : v)), diagonals: Object.entries(room.diagonals ?? {}), isTape };
  }
  const names = room.corners ?? inOrder(Object.keys(given));
  const walls = names.map((/** @type {string} */ name, /** @type {number} */ i) => {
    const next = names[(i + 1) % names.length];
    return given[`${name}-${next}`] ?? given[`${next}-${name}`] ?? '';
  });
  return { corners: names, walls, diagonals: Object.entries(room.diagonals ?? {}), isTape };
}

/** @param {string[]} walls */
function inOrder(walls) {
  const names = new Set(walls.flatMap((wall) => wall.split('-')));
  return [...names].map((_, i) => cornerName(i));
}

/**
 * Write walls as typed into a document; corners are named anew, diagonals to corners that are
 * gone go with them.
 * @param {any} document
 * @param {any[]} walls
 */
export function setWalls(document, walls) {
  const room = (document.room ??= {});
  const typed = walls.map((wall) => wall ?? '');
  while (typed.length && typed[typed.length - 1] === '') typed.pop();
  const corners = typed.map((_, i) => cornerName(i));
  room.corners = corners;
  room.walls = {};
  typed.forEach((wall, i) => {
    if (wall !== '') room.walls[`${corners[i]}-${corners[(i + 1) % corners.length]}`] = wall;
  });
  for (const name of Object.keys(room.diagonals ?? {})) {
    if (!name.split('-').every((corner) => corners.includes(corner))) delete room.diagonals[name];
  }
  if (room.angles === undefined) room.angles = 'square';
}

/**
 * The walls typed so far as a chain of spots, turning left at every corner; while there is no
 * room yet, so that the drawing grows from the first wall on.
 * @param {import('../bench.js').Bench} bench
 * @returns {{x: number, y: number}[]}
 */
export function chainOf(bench) {
  const tape = tapeOf(bench.job.document);
  if (!tape.isTape) return [];
  const lengths = bench.measured?.lengths ?? {};
  const spots = [{ x: 0, y: 0 }];
  let [dx, dy] = [1, 0];
  const walls = Array.isArray(bench.job.document.room?.walls);
  for (let i = 0; i < tape.walls.length; i += 1) {
    const name = walls ? String(i) : `${tape.corners[i]}-${tape.corners[(i + 1) % tape.corners.length]}`;
    const mm = lengths[`room.walls.${name}`]?.mm;
    if (!mm) break;
    const last = spots[spots.length - 1];
    spots.push({ x: last.x + dx * mm, y: last.y + dy * mm });
    [dx, dy] = [-dy, dx];
  }
  return spots;
}

/** Pairs of corners that are not walls and not measured yet. @param {Tape} tape */
export function freePairs(tape) {
  const taken = new Set(tape.diagonals.map(([name]) => name.split('-').sort().join('-')));
  const n = tape.corners.length;
  /** @type {string[]} */
  const pairs = [];
  for (let i = 0; i < n; i += 1) {
    for (let k = i + 2; k < n; k += 1) {
      if (i === 0 && k === n - 1) continue;
      const name = `${tape.corners[i]}-${tape.corners[k]}`;
      if (!taken.has([tape.corners[i], tape.corners[k]].sort().join('-'))) pairs.push(name);
    }
  }
  return pairs;
}

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
    if (names.length === 2 && i === 1) return ''; // the first wall, seen the other way round
    return given[`${name}-${next}`] ?? given[`${next}-${name}`] ?? '';
  });
  return { corners: names, walls, diagonals: Object.entries(room.diagonals ?? {}), isTape };
}

/** @param {string[]} walls */
function inOrder(walls) {
  const names = new Set(walls.flatMap((wall) => wall.split('-')));
  return [...names].map((_, i) => cornerName(i));
}

/** How many walls were typed; unknown ones in between count. @param {any[]} walls */
export function typedWalls(walls) {
  let n = walls.length;
  while (n && walls[n - 1] === '') n -= 1;
  return n;
}

/**
 * Write walls as typed into a document. Up to three walls leave the way back to A open, more of
 * them close it. Corners are named anew; what was measured at corners that are gone goes with them.
 * @param {any} document
 * @param {any[]} walls
 * @param {boolean} [close] three walls are the whole room
 */
export function setWalls(document, walls, close = false) {
  const room = (document.room ??= {});
  const typed = walls.map((wall) => wall ?? '').slice(0, typedWalls(walls));
  const open = typed.length < 4 && !close;
  const corners = Array.from({ length: typed.length + (open && typed.length ? 1 : 0) }, (_, i) => cornerName(i));
  room.corners = corners;
  room.walls = {};
  typed.forEach((wall, i) => {
    if (wall !== '') room.walls[`${corners[i]}-${corners[(i + 1) % corners.length]}`] = wall;
  });
  const points = Object.keys(room.ties ?? {});
  const ofCorners = [room.diagonals, room.string_lines, typeof room.angles === 'object' ? room.angles : null, ...Object.values(room.ties ?? {})];
  for (const table of ofCorners) {
    for (const name of Object.keys(table ?? {})) {
      if (!points.includes(name) && !name.split('-').every((corner) => corners.includes(corner))) delete table[name];
    }
  }
  if (room.angles === undefined) room.angles = 'square';
}

/**
 * The walls typed so far as a chain of spots, so that the drawing grows from the first wall on:
 * turning left at every corner, or right where left would run into what is there.
 * @param {import('../bench.js').Bench} bench
 * @returns {{x: number, y: number}[]}
 */
export function chainOf(bench) {
  const tape = tapeOf(bench.job.document);
  if (!tape.isTape) return [];
  const lengths = bench.measured?.lengths ?? {};
  const asList = Array.isArray(bench.job.document.room?.walls);
  const spots = [{ x: 0, y: 0 }];
  let way = { x: 1, y: 0 };
  for (let i = 0; i < typedWalls(tape.walls); i += 1) {
    const name = asList ? String(i) : `${tape.corners[i]}-${tape.corners[(i + 1) % tape.corners.length]}`;
    const mm = lengths[`room.walls.${name}`]?.mm;
    if (!mm) break;
    const last = spots[spots.length - 1];
    const turned = { x: -way.y, y: way.x };
    const left = i ? turned : way;
    const right = { x: -turned.x, y: -turned.y };
    way = i > 1 && runsInto(spots, last, left, mm) ? right : left;
    spots.push({ x: last.x + way.x * mm, y: last.y + way.y * mm });
  }
  // passed the other way round, the room lies on the other side of wall A-B
  if (bench.job.document.room?.order === 'clockwise') return spots.map(({ x, y }) => ({ x, y: -y }));
  return spots;
}

/** Whether a wall from a spot would touch an earlier one, but for coming home to A. @param {{x: number, y: number}[]} spots @param {{x: number, y: number}} from @param {{x: number, y: number}} way @param {number} mm */
function runsInto(spots, from, way, mm) {
  const to = { x: from.x + way.x * mm, y: from.y + way.y * mm };
  if (Math.hypot(to.x - spots[0].x, to.y - spots[0].y) < 150) return false;
  return spots.slice(0, -2).some((a, i) => {
    const b = spots[i + 1];
    const [x0, x1] = [Math.min(a.x, b.x), Math.max(a.x, b.x)];
    const [y0, y1] = [Math.min(a.y, b.y), Math.max(a.y, b.y)];
    return x0 <= Math.max(from.x, to.x) && x1 >= Math.min(from.x, to.x) && y0 <= Math.max(from.y, to.y) && y1 >= Math.min(from.y, to.y);
  });
}

/** Whether the walls typed so far cannot be the whole room yet. @param {import('../bench.js').Bench} bench */
export function isGrowing(bench) {
  const { survey } = bench.measured ?? {};
  const tape = tapeOf(bench.job.document);
  if (!tape.isTape || tape.diagonals.length || !survey) return false;
  return survey.lengths.some((/** @type {any} */ length) => length.doubtful);
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

/** Whether a name is that of a corner or of two of them. @param {Tape} tape @param {string} name */
export function isWallOrCorner(tape, name) {
  return name.split('-').every((part) => tape.corners.includes(part));
}

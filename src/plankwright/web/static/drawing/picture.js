/** A plan as the server draws it, with names for what comes as short lists. */

/**
 * @typedef {object} Piece
 * @property {string} id
 * @property {number[][]} rings
 * @property {string} kind whole, starter, end-piece or wall-to-wall
 * @property {number} row
 * @property {number} board
 * @property {number} length [mm]
 * @property {number} width [mm]
 * @property {number} fromNear where it lies in its board [mm]
 * @property {number} fromWall where it lies in its board [mm]
 * @property {string} lengthWords
 * @property {string} widthWords
 * @property {string | null} label letter of the offcut it comes from
 * @property {number} layOrder
 * @property {number | null} cutOrder
 * @property {string} edges near, far, wall and room side: f factory, x cut
 */

/**
 * @typedef {object} Laying
 * @property {number} row_angle_deg
 * @property {string} laid
 * @property {string} start_wall
 * @property {number} start_line_mm
 * @property {[number, number, number, number]} bounds_uv
 * @property {string} order where laying begins and what comes last; empty where row 1 comes first
 * @property {[number, number, number, number][]} splines x, y, x, y of their ends
 */

/**
 * @typedef {object} Picture
 * @property {string} unit
 * @property {{length_mm: number, width_mm: number, length: string, width: string, near_end: string | null}} board
 * @property {Laying} laying
 * @property {number[][][]} floor
 * @property {Piece[]} pieces
 * @property {Record<string, any>} figures
 * @property {{code: string, where: string, message: string, remedy: string}[]} findings
 */

/**
 * @param {any} raw
 * @returns {Picture}
 */
export function readPicture(raw) {
  return { ...raw, pieces: raw.pieces.map(readPiece) };
}

/**
 * @param {any[]} raw
 * @returns {Piece}
 */
function readPiece(raw) {
  const [id, rings, kind, row, board, length, width, fromNear, fromWall] = raw;
  const [lengthWords, widthWords, label, layOrder, cutOrder, edges] = raw.slice(9);
  return {
    id, rings, kind, row, board, length, width, fromNear, fromWall,
    lengthWords, widthWords, label, layOrder, cutOrder, edges,
  };
}

/**
 * Plan axes and back: u along the rows, v across them, away from the start wall.
 * @param {Laying} laying
 */
export function axesOf(laying) {
  const angle = (laying.row_angle_deg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const side = laying.laid === 'right-to-left' ? 1 : -1;
  const v = [-side * sin, side * cos];
  return {
    /** @param {number} u @param {number} w */
    room: (u, w) => ({ x: u * cos + w * v[0], y: u * sin + w * v[1] }),
    /** @param {{x: number, y: number}} spot */
    plan: (spot) => ({ u: spot.x * cos + spot.y * sin, v: spot.x * v[0] + spot.y * v[1] }),
  };
}

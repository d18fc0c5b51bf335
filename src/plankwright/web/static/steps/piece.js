/** One piece: where it is cut from, and where its offcut goes. */

import { h, s } from '../dom.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {import('../drawing/picture.js').Piece} Piece */

const w = words.piece;

/** @param {Bench} bench @param {Piece} piece */
export function pieceCard(bench, piece) {
  const picture = /** @type {import('../drawing/picture.js').Picture} */ (bench.picture);
  const together = picture.pieces.filter((other) => other.board === piece.board);
  const others = together.filter((other) => other.id !== piece.id).sort((a, b) => a.layOrder - b.layOrder);
  return h('div', { class: 'card', id: 'picked', role: 'status' },
    h('h3', {}, w.title(piece.id, w.kinds[/** @type {'whole'} */ (piece.kind)], piece.lengthWords)),
    h('p', {}, piece.label ? w.fromOffcut(piece.label) : piece.kind === 'whole' && !others.length ? w.whole : w.fromNew),
    others.length > 0 && h('p', {}, w.goesTo(others.map((other) => other.id).join(', '))),
    boardPicture(picture, together, piece));
}

/** The board with every piece that is cut from it; what is left is crossed out. @param {import('../drawing/picture.js').Picture} picture @param {Piece[]} together @param {Piece} piece */
function boardPicture(picture, together, piece) {
  const { length_mm: length, width_mm: width } = picture.board;
  const high = Math.max(width, length / 7);
  const drawn = together.map((other) => {
    const look = other.id === piece.id ? 'cut this' : 'cut';
    const [x, y] = [other.fromNear, (other.fromWall / width) * high];
    const [wide, tall] = [other.length, (other.width / width) * high];
    return [
      s('rect', { x, y, width: wide, height: tall, class: look }),
      s('text', { x: x + wide / 2, y: y + tall / 2, 'font-size': length / 26 }, `${other.id}`),
    ];
  });
  return s('svg', { class: 'boardpicture', viewBox: `-4 -4 ${length + 8} ${high + 8}`, role: 'img', 'aria-label': w.pictureWords(picture.board.length) },
    s('rect', { x: 0, y: 0, width: length, height: high, class: 'rest' }),
    s('path', { d: `M0 0L${length} ${high}M0 ${high}L${length} 0`, class: 'crossing' }),
    drawn);
}

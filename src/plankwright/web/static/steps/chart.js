/** Boards and narrowest row against the start line; a press takes a start line. */

import { h, s } from '../dom.js';
import { words } from '../strings.js';

/** @typedef {import('../bench.js').Bench} Bench */
/** @typedef {{first_row_mm: number, boards: number, narrowest_row_mm: number, first_row: string, narrowest_row: string}} Point */

const w = words.choices;
const [WIDE, HIGH, LEFT, TOP, GAP] = [400, 84, 52, 12, 34];

/** @param {Bench} bench @param {Point[]} points */
export function chart(bench, points) {
  if (points.length < 2) return null;
  const now = bench.picture?.figures.first_row_mm ?? null;
  const low = points[0].first_row_mm;
  const high = points[points.length - 1].first_row_mm;
  const x = (/** @type {number} */ mm) => LEFT + ((mm - low) / (high - low)) * (WIDE - LEFT - 10);
  const height = 2 * HIGH + GAP + TOP + 40;
  return h('figure', { class: 'chart' },
    h('figcaption', {}, h('b', {}, w.chartTitle), ' ', h('span', { class: 'pencil' }, w.chartHow)),
    s('svg', { viewBox: `0 0 ${WIDE} ${height}`, role: 'img', 'aria-label': w.chartWords(points[0], best(points)) },
      line(points, x, TOP, (point) => point.boards, (point) => String(point.boards), w.boards, true),
      line(points, x, TOP + HIGH + GAP, (point) => point.narrowest_row_mm, (point) => point.narrowest_row, w.narrowest, false),
      now !== null && s('line', { class: 'nowline', x1: x(now), x2: x(now), y1: TOP - 6, y2: TOP + 2 * HIGH + GAP }),
      s('text', { x: LEFT, y: height - 14, 'text-anchor': 'start' }, points[0].first_row),
      s('text', { x: WIDE - 10, y: height - 14, 'text-anchor': 'end' }, points[points.length - 1].first_row),
      s('text', { x: (LEFT + WIDE) / 2, y: height - 14, class: 'axis' }, w.axis),
      points.map((point, i) => column(bench, points, point, i, x, height))));
}

/** @param {Point[]} points @param {(mm: number) => number} x @param {number} top @param {(p: Point) => number} value @param {(p: Point) => string} told @param {string} name @param {boolean} stepped */
function line(points, x, top, value, told, name, stepped) {
  const sorted = [...points].sort((a, b) => value(a) - value(b));
  const [least, most] = [sorted[0], sorted[sorted.length - 1]];
  const span = value(most) - value(least) || 1;
  const y = (/** @type {Point} */ point) => top + HIGH - 6 - ((value(point) - value(least)) / span) * (HIGH - 22);
  const path = points.map((point, i) => `${i ? (stepped ? `H${x(point.first_row_mm)}V` : `L${x(point.first_row_mm)} `) : `M${x(point.first_row_mm)} `}${y(point)}`).join('');
  return s('g', {},
    s('line', { class: 'base', x1: LEFT, x2: WIDE - 10, y1: top + HIGH, y2: top + HIGH }),
    s('path', { class: 'curve', d: path }),
    s('text', { x: LEFT - 6, y: y(least), 'text-anchor': 'end' }, told(least)),
    value(most) !== value(least) && s('text', { x: LEFT - 6, y: y(most), 'text-anchor': 'end' }, told(most)),
    s('text', { x: LEFT, y: top + 2, 'text-anchor': 'start', class: 'axis' }, name));
}

/** @param {Bench} bench @param {Point[]} points @param {Point} point @param {number} i @param {(mm: number) => number} x @param {number} height */
function column(bench, points, point, i, x, height) {
  const wide = (WIDE - LEFT - 10) / (points.length - 1);
  return s('rect', {
    class: 'column', x: x(point.first_row_mm) - wide / 2, y: 0, width: wide, height: height - 30, 'data-i': i,
    onclick: () => bench.job.change('first row', (document) => { (document.laying ??= {}).first_row = `${point.first_row_mm} mm`; }),
  }, s('title', {}, w.point(point)));
}

/** @param {Point[]} points */
function best(points) {
  return [...points].sort((a, b) => a.boards - b.boards || b.narrowest_row_mm - a.narrowest_row_mm)[0];
}

/** The last row to come, from distances to the far wall: the twin of `plan/drift.py`. */

const OPEN_JOINT_MM = 0.6;
const TAPE_MM = 1.5;

/**
 * @typedef {object} Field the floor across its rows at both ends of a row
 * @property {number[]} rows laid up to this one, at both ends
 * @property {number} board_width_mm
 * @property {number[]} across_mm
 * @property {number[]} first_row_mm
 * @property {number} start_gap_mm
 * @property {number} last_gap_mm
 * @property {number} narrowest_row_mm
 * @typedef {object} Forecast
 * @property {number[]} last_row_mm at the near and at the far end, if rows go on as they did
 * @property {number[]} closed_last_row_mm the same with every joint closed
 * @property {boolean} has_open_joints
 * @property {boolean} is_narrow the last row would be narrower than it may be
 * @property {boolean} is_misread the rows cannot cover what the distances say
 */

/**
 * @param {Field} field @param {number[]} open distance to the far wall at both ends [mm]
 * @returns {Forecast | null} null where the distances cannot be
 */
export function forecastLastRow(field, open) {
  const { rows, board_width_mm: width } = field;
  const covered = open.map((mm, end) => field.across_mm[end] - field.start_gap_mm - mm);
  const left = open.map((mm) => mm - field.last_gap_mm);
  if (Math.min(...covered) <= 0 || Math.max(...left) <= 0) return null;
  const extra = covered.map((mm, end) => (
    (mm - field.first_row_mm[end] - (rows[end] - 1) * width) / rows[end]));
  const last = lastRow(left, extra.map((mm) => width + mm));
  const closed = lastRow(left.map((mm, end) => mm + Math.max(extra[end], 0) * rows[end]), [width, width]);
  const hasOpen = extra.some((mm, end) => mm >= OPEN_JOINT_MM && mm * rows[end] >= TAPE_MM);
  const isMisread = extra.some((mm, end) => Math.abs(mm * rows[end]) > width / 2);
  return {
    last_row_mm: last, closed_last_row_mm: closed, has_open_joints: hasOpen, is_misread: isMisread,
    is_narrow: !isMisread && Math.min(...(hasOpen ? closed : last)) < field.narrowest_row_mm,
  };
}

/** @param {number[]} left @param {number[]} laid */
function lastRow(left, laid) {
  const most = Math.max(...left.map((mm, end) => mm / laid[end]));
  const whole = Math.max(Math.ceil(most - 1e-6) - 1, 0);
  return left.map((mm, end) => mm - whole * laid[end]);
}

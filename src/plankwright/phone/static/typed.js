/** Lengths as people type them on the phone; the twin of `parse_length`, with what a tape needs. */

/** @type {Record<string, number>} */
const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };

/**
 * The length in mm, to 0.001, or null where it cannot be read without a guess.
 * @param {string} text @param {string} unit of a bare number
 * @returns {number | null}
 */
export function parseTyped(text, unit) {
  const plain = text.trim().toLowerCase().replace(/[’′]/g, "'").replace(/[”″]|''/g, '"');
  const feet = /^(\d+)\s*(?:'|ft)\s*(.*)$/.exec(plain);
  if (feet) {
    const inches = feet[2] ? number(feet[2].replace(/\s*(?:"|in)$/, '')) : 0;
    return inches === null || inches >= 12 ? null : rounded(Number(feet[1]) * MM.ft + inches * MM.in);
  }
  const match = /^(.*?)\s*(mm|cm|m|in|ft|")?$/.exec(plain);
  const size = match && number(match[1]);
  if (!match || size === null) return null;
  const named = match[2] === '"' ? 'in' : match[2] ?? unit;
  return rounded(size * MM[named]);
}

/** A decimal or a mixed fraction. @param {string} text @returns {number | null} */
function number(text) {
  if (/^\d+(\.\d+)?$/.test(text)) return Number(text);
  const mixed = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(text);
  if (!mixed || mixed[3] === '0') return null;
  const part = Number(mixed[2]) / Number(mixed[3]);
  return mixed[1] !== undefined && part >= 1 ? null : Number(mixed[1] ?? 0) + part;
}

/** @param {number} mm */
function rounded(mm) {
  return Number.isFinite(mm) && mm <= 1_000_000 ? Math.round(mm * 1000) / 1000 : null;
}

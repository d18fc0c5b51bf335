/**
 * Lengths as people read them: the twin of `format_length` in units.py, for what is shown while
 * something is dragged. What a person types is always read by the server.
 */

const MM_PER_INCH = 25.4;

/**
 * A length on the tape's marks, 1/16 in or 1 mm.
 * @param {number} mm
 * @param {string} unit
 */
export function formatLength(mm, unit) {
  const sign = mm < 0 ? '-' : '';
  const size = Math.abs(mm);
  if (unit === 'in' || unit === 'ft') {
    const sixteenths = Math.floor((size / MM_PER_INCH) * 16 + 0.5 + 1e-9);
    return (sixteenths ? sign : '') + inches(sixteenths, unit === 'ft');
  }
  const whole = Math.floor(size + 0.5 + 1e-9);
  const mark = whole ? sign : '';
  if (unit === 'cm') return `${mark}${(whole / 10).toFixed(1)} cm`;
  if (unit === 'm') return `${mark}${(whole / 1000).toFixed(3)} m`;
  return `${mark}${whole} mm`;
}

/**
 * @param {number} sixteenths
 * @param {boolean} withFeet
 */
function inches(sixteenths, withFeet) {
  const feet = withFeet ? Math.floor(sixteenths / 192) : 0;
  const rest = sixteenths - feet * 192;
  if (!feet) return `${mixed(rest)}"`;
  return rest ? `${feet}' ${mixed(rest)}"` : `${feet}'`;
}

/** @param {number} sixteenths */
function mixed(sixteenths) {
  const whole = Math.floor(sixteenths / 16);
  let over = sixteenths % 16;
  if (!over) return String(whole);
  let under = 16;
  while (over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  return whole ? `${whole} ${over}/${under}` : `${over}/${under}`;
}

/**
 * A length in the way a job document keeps it: text with its unit, exact to the tape's mark.
 * @param {number} mm
 * @param {string} unit
 */
export function typedLength(mm, unit) {
  if (unit === 'in' || unit === 'ft') {
    const sixteenths = Math.round((mm / MM_PER_INCH) * 16);
    return `${sixteenths < 0 ? '-' : ''}${mixed(Math.abs(sixteenths))} in`;
  }
  return `${Math.round(mm)} mm`;
}

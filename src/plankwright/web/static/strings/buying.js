/** What the page says: buy. */

export const buy = {
  working: 'Counting …',
  packs: (/** @type {number} */ n) => `${n} ${n === 1 ? 'pack' : 'packs'}`,
  packsOrMore: (/** @type {number} */ n) => `${n} ${n === 1 ? 'pack' : 'packs'} or more`,
  sums: (/** @type {any} */ s) => `${s.subtotal} and ${s.tax} tax${s.unpriced ? `; ${s.unpriced === 1 ? 'one line has' : `${s.unpriced} lines have`} no price` : ''}`,
  drawings: { 'vapor-barrier': 'Vapor barrier', underlayment: 'Underlayment', trim: 'Trim' },
  asTable: 'As a table', howAndWhy: 'How and why', pricesTitle: 'Prices',
  currency: 'Currency', tax: 'Sales tax, %', pack: 'A pack of boards', trip: 'A second trip to the store', film: 'A roll of vapor barrier', pad: 'A roll of underlayment', spares: 'Boards to keep for repair',
};

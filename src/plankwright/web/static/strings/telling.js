/** What the page says: trim, tell. */

export const trim = {
  how: 'Cover every gap. Trim is fixed to the wall, never to the floor: a floor that is nailed down somewhere cannot move and buckles.',
  brief: (/** @type {number} */ n) => `${n} lengths`,
  careTitle: 'Nails into walls',
  care: [
    'Pipes and cables run in the bottom of walls: nail into studs, short and high, and look before you nail.',
    'Old baseboards and paint: ask for the year of the house first; when in doubt a licensed laboratory tests.',
    'No trimming of fire-rated doors or of the furnace room’s door.',
  ],
  sticks: 'Cut the lengths like this',
  stick: 'Length', pieces: 'Pieces',
  least: 'No way of cutting these pieces takes less.',
  each: 'Each piece with its ends',
  number: 'No.', wall: 'Wall', length: 'Long point', ends: 'Ends',
  drawing: 'Trim: where each piece goes', show: 'Show where each piece goes',
};

export const tell = {
  howToTitle: 'Tell others how it went',
  howTo: 'An article with drawings is written from the job. Names of the household, prices and notes are left out unless you want them in.',
  withName: 'With the names of the job, doors and things', withPrices: 'With prices', withNotes: 'With my notes',
  write: 'Write the how-to', writing: 'Writing …', preview: 'Preview of the how-to',
  savePage: 'Save the page', saveFolder: 'Save as Markdown with drawings',
  recordTitle: 'The record', noRecord: 'The record begins with the first piece that is laid.',
  lie: 'Pieces that lie', boards: 'New boards taken, of those planned', spoiled: 'Cuts that went wrong', onShelf: 'Offcuts on the shelf',
  addPhoto: 'Add a photograph', photo: 'Photograph of the floor',
  paperTitle: 'On paper',
  paper: 'Paper in the printer',
  all: 'All sheets, as PDF', thisPage: 'Print this page', cancel: 'Stop', pdf: 'PDF',
  printing: (/** @type {string} */ told) => `Printing${told ? `: ${told.replace(/-/g, ' ')}` : ''} …`,
  printOf: (/** @type {string} */ name) => `${name} as PDF`,
  sheets: {
    cautions: 'Cautions', slab: 'Slab', heights: 'Heights at doors', 'shopping-list': 'Shopping list',
    'vapor-barrier': 'Vapor barrier', underlayment: 'Underlayment', 'floor-plan': 'Floor plan', cards: 'Laying cards',
    'cut-list': 'Cut list', 'rip-table': 'Rips', 'offcut-labels': 'Labels for offcuts', templates: 'Templates at true size', trim: 'Trim',
  },
  filesTitle: 'For other programs',
  planFile: 'Plan file', svg: 'Drawing (SVG)', dxf: 'Drawing (DXF)', jobFile: 'Job file', everything: 'Everything of the job',
};

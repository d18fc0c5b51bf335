/**
 * What happened, folded to what lies where: the twin of `guide/laying_state.py`. Both are held to
 * `tests/guide/vectors.json`.
 */

/**
 * @typedef {{ id: string, order: number, device: string, at: string, kind: string,
 *   [key: string]: any }} LayingEvent
 * @typedef {{ length_mm: number, width_mm: number, ends: string, pack: string,
 *   damaged: boolean }} Held
 * @typedef {{ length_mm: number, width_mm: number, ends: string, pack: string }} OnShelf
 * @typedef {{ batch: string, opened: number, taken: number }} Pack
 * @typedef {object} State
 * @property {Map<string, Pack>} packs
 * @property {Map<string, Held>} hand cut, or lifted, and not laid
 * @property {Map<string, Held>} laid
 * @property {Map<string, OnShelf>} shelf by letter
 * @property {number} found_um2 area of offcuts that came from elsewhere
 * @property {number} waste_um2
 * @property {Map<string, number>} spoiled
 * @property {Map<string, { what: string, row: number, end: string, length_mm: number }>} measured
 * @property {Map<string, number>} gaps
 * @property {Set<number>} locked
 * @property {Map<string, boolean>} checks
 * @property {Map<string, string[]>} notes
 * @property {Map<string, string[]>} photos
 * @property {number} revision
 * @property {Map<string, string>} set_aside events that cannot have happened, with the reason
 */

/** Why an event cannot have happened here. */
class CannotBe extends Error {}

/** @param {number} length @param {number} width */
export function areaUm2(length, width) {
  return Math.round(length * 1000) * Math.round(width * 1000);
}

/** @returns {State} */
export function emptyState() {
  return {
    packs: new Map(), hand: new Map(), laid: new Map(), shelf: new Map(),
    found_um2: 0, waste_um2: 0, spoiled: new Map(), measured: new Map(), gaps: new Map(),
    locked: new Set(), checks: new Map(), notes: new Map(), photos: new Map(),
    revision: 0, set_aside: new Map(),
  };
}

/**
 * The order of events: by their number, then by id; letters compare as in Python.
 * @param {LayingEvent} a @param {LayingEvent} b
 */
export function byPlace(a, b) {
  return a.order - b.order || compareText(a.id, b.id);
}

/** By code points, which UTF-16 units alone are not. @param {string} a @param {string} b */
function compareText(a, b) {
  const one = Array.from(a), two = Array.from(b);
  for (let i = 0; i < Math.min(one.length, two.length); i += 1) {
    const apart = /** @type {number} */ (one[i].codePointAt(0)) - /** @type {number} */ (two[i].codePointAt(0));
    if (apart) return apart;
  }
  return one.length - two.length;
}

/** Each event once, in order. @param {LayingEvent[]} events */
export function inOrder(events) {
  return [...new Map(events.map((event) => [event.id, event])).values()].sort(byPlace);
}

/**
 * Ids of events that later ones take back; what is taken back takes nothing back.
 * @param {LayingEvent[]} ordered
 */
export function takenBack(ordered) {
  const known = new Map(ordered.map((event) => [event.id, event]));
  /** @type {Set<string>} */
  const back = new Set();
  for (const undo of ordered.filter((event) => event.kind === 'undone').reverse()) {
    const target = known.get(undo.event);
    if (!back.has(undo.id) && target && byPlace(target, undo) < 0) back.add(target.id);
  }
  return back;
}

/**
 * The state after events, given in any order, some perhaps twice.
 * @param {LayingEvent[]} events @param {number[]} boardMm length and width of a new board
 */
export function fold(events, boardMm) {
  const ordered = inOrder(events), back = takenBack(ordered), state = emptyState();
  for (const event of ordered) {
    if (!back.has(event.id)) take(state, event, boardMm);
  }
  return state;
}

/** @param {State} state @param {LayingEvent} event @param {number[]} boardMm */
function take(state, event, boardMm) {
  try {
    HOW[event.kind]?.(state, event, boardMm);
  } catch (error) {
    if (!(error instanceof CannotBe)) throw error;
    state.set_aside.set(event.id, error.message);
  }
}

/** @type {Record<string, (state: State, event: LayingEvent, boardMm: number[]) => void>} */
const HOW = {
  'boards-opened': (state, event) => {
    const pack = packOf(state, event.pack);
    pack.opened += event.boards;
    pack.batch = event.batch || pack.batch;
  },
  'piece-cut': cut,
  'piece-laid': (state, event, boardMm) => {
    if (!event.whole) {
      state.laid.set(event.piece, fromHand(state, event.piece));
      return;
    }
    requireFree(state, event.piece);
    packOf(state, event.pack ?? '').taken += 1;
    const [length_mm, width_mm] = boardMm;
    state.laid.set(event.piece, { length_mm, width_mm, ends: 'both', pack: event.pack ?? '', damaged: false });
  },
  'piece-spoiled': (state, event) => {
    const held = fromHand(state, event.piece);
    state.waste_um2 += areaUm2(held.length_mm, held.width_mm);
    state.spoiled.set(event.piece, (state.spoiled.get(event.piece) ?? 0) + 1);
  },
  'piece-shelved': shelve,
  'piece-damaged': (state, event) => {
    const held = state.laid.get(event.piece);
    if (!held) throw new CannotBe('the piece does not lie');
    state.laid.set(event.piece, { ...held, damaged: true });
  },
  'board-damaged': (state, event, boardMm) => {
    packOf(state, event.pack ?? '').taken += 1;
    state.waste_um2 += areaUm2(boardMm[0], boardMm[1]);
  },
  'piece-lifted': (state, event) => {
    const held = state.laid.get(event.piece);
    if (!held) throw new CannotBe('the piece does not lie');
    state.laid.delete(event.piece);
    state.hand.set(event.piece, held);
  },
  'offcut-found': (state, event) => {
    requireLetterFree(state, event.label);
    const { length_mm, width_mm, ends } = event;
    state.shelf.set(event.label, { length_mm, width_mm, ends, pack: '' });
    state.found_um2 += areaUm2(length_mm, width_mm);
  },
  'offcut-thrown': (state, event) => {
    const offcut = state.shelf.get(event.label);
    if (!offcut) throw new CannotBe('no such offcut on the shelf');
    state.shelf.delete(event.label);
    state.waste_um2 += areaUm2(offcut.length_mm, offcut.width_mm);
  },
  'distance-measured': (state, { what, row, end, length_mm }) => {
    state.measured.set(JSON.stringify([what, row, end]), { what, row, end, length_mm });
  },
  'gap-checked': (state, event) => { state.gaps.set(event.where, event.gap_mm); },
  'row-locked': (state, event) => { state.locked.add(event.row); },
  'check-made': (state, event) => { state.checks.set(event.check, event.good); },
  'plan-taken': (state, event) => { state.revision = event.revision; },
  noted: (state, event) => { state.notes.set(event.id, [event.where ?? '', event.text]); },
  photographed: (state, event) => {
    state.photos.set(event.id, [event.where ?? '', event.photo, event.caption ?? '']);
  },
};

/** @param {State} state @param {LayingEvent} event @param {number[]} boardMm */
function cut(state, event, boardMm) {
  requireFree(state, event.piece);
  const source = sourceOf(state, event, boardMm);
  const rests = event.rests ?? [];
  const labels = rests.map((/** @type {any} */ rest) => rest.label);
  const taken = labels.some((/** @type {string} */ label) => state.shelf.has(label) && label !== event.source);
  if (taken || new Set(labels).size < labels.length) throw new CannotBe('the letter is on another offcut');
  const parts = [event, ...rests];
  if (parts.some((part) => isLarger(part, source))) throw new CannotBe('larger than what it was cut from');
  const spent = parts.reduce((sum, part) => sum + areaUm2(part.length_mm, part.width_mm), 0);
  const waste = areaUm2(source.length_mm, source.width_mm) - spent;
  if (waste < 0) throw new CannotBe('more came out than went in');
  if (event.source) state.shelf.delete(event.source);
  else packOf(state, event.pack ?? '').taken += 1;
  state.waste_um2 += waste;
  state.hand.set(event.piece, {
    length_mm: event.length_mm, width_mm: event.width_mm, ends: event.ends ?? 'none',
    pack: source.pack, damaged: false,
  });
  for (const { label, length_mm, width_mm, ends } of rests) {
    state.shelf.set(label, { length_mm, width_mm, ends, pack: source.pack });
  }
}

/** @param {State} state @param {LayingEvent} event */
function shelve(state, event) {
  requireLetterFree(state, event.label);
  const asked = state.hand.get(event.piece);
  if (asked && event.length_mm > asked.length_mm + 0.5) throw new CannotBe('larger than what it was cut from');
  const held = fromHand(state, event.piece);
  const length_mm = Math.min(event.length_mm, held.length_mm);
  state.shelf.set(event.label, { length_mm, width_mm: held.width_mm, ends: event.ends, pack: held.pack });
  state.waste_um2 += areaUm2(held.length_mm, held.width_mm) - areaUm2(length_mm, held.width_mm);
}

/** @param {State} state @param {LayingEvent} event @param {number[]} boardMm */
function sourceOf(state, event, boardMm) {
  if (!event.source) {
    return { length_mm: boardMm[0], width_mm: boardMm[1], ends: 'both', pack: event.pack ?? '' };
  }
  const source = state.shelf.get(event.source);
  if (!source) throw new CannotBe('no such offcut on the shelf');
  return source;
}

/** @param {any} part @param {OnShelf} source */
function isLarger(part, source) {
  return Math.round(part.length_mm * 1000) > Math.round(source.length_mm * 1000)
    || Math.round(part.width_mm * 1000) > Math.round(source.width_mm * 1000);
}

/** @param {State} state @param {string} name */
function packOf(state, name) {
  let pack = state.packs.get(name);
  if (!pack) {
    pack = { batch: '', opened: 0, taken: 0 };
    state.packs.set(name, pack);
  }
  return pack;
}

/** @param {State} state @param {string} piece */
function requireFree(state, piece) {
  if (state.laid.has(piece)) throw new CannotBe('the piece lies already');
  if (state.hand.has(piece)) throw new CannotBe('the piece was cut already');
}

/** @param {State} state @param {string} label */
function requireLetterFree(state, label) {
  if (state.shelf.has(label)) throw new CannotBe('the letter is on another offcut');
}

/** @param {State} state @param {string} piece */
function fromHand(state, piece) {
  const held = state.hand.get(piece);
  if (!held) throw new CannotBe('the piece is not in the hand');
  state.hand.delete(piece);
  return held;
}

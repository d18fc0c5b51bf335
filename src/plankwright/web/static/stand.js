/**
 * How things stand on the floor when events still wait on this device: the server's word, and the
 * waiting events on top of it. Needs no screen. What cannot be is left to the server, which says so.
 */

/** @typedef {import('./outbox.js').LayingEvent} LayingEvent */
/** @typedef {{laid: Record<string, any>, hand: Record<string, any>, shelf: Record<string, any>, spoiled: Record<string, number>, set_aside: Record<string, string>} & Record<string, any>} Stand */

/** @returns {Stand} */
function empty() {
  return { laid: {}, hand: {}, shelf: {}, spoiled: {}, set_aside: {}, packs: {}, measured: [], notes: {} };
}

/**
 * @param {any} told the state as the server last told it
 * @param {LayingEvent[]} last the last events the server knows
 * @param {LayingEvent[]} waiting
 * @returns {Stand}
 */
export function standAfter(told, last, waiting) {
  const stand = structuredClone(told ?? empty());
  const known = new Set(last.map((event) => event.id));
  const back = new Set(waiting.filter((event) => event.kind === 'undone').map((event) => event.event));
  for (const event of waiting) {
    if (known.has(event.id) || back.has(event.id)) continue;
    if (event.kind === 'undone') takeBack(stand, last.find((other) => other.id === event.event));
    else happen(stand, event);
  }
  return stand;
}

/** @param {Stand} stand @param {LayingEvent} event */
function happen(stand, event) {
  const { piece } = event;
  if (event.kind === 'piece-cut') {
    delete stand.shelf[event.source];
    stand.hand[piece] = { length_mm: event.length_mm, ends: event.ends };
    for (const rest of event.rests ?? []) stand.shelf[rest.label] = rest;
  } else if (event.kind === 'piece-laid') {
    stand.laid[piece] = stand.hand[piece] ?? {};
    delete stand.hand[piece];
  } else if (event.kind === 'piece-spoiled') {
    delete stand.hand[piece];
    stand.spoiled[piece] = (stand.spoiled[piece] ?? 0) + 1;
  } else if (event.kind === 'piece-shelved') {
    stand.shelf[event.label] = stand.hand[piece];
    delete stand.hand[piece];
  } else if (event.kind === 'piece-lifted') {
    stand.hand[piece] = stand.laid[piece];
    delete stand.laid[piece];
  } else if (event.kind === 'offcut-thrown') {
    delete stand.shelf[event.label];
  }
}

/** @param {Stand} stand @param {LayingEvent | undefined} event */
function takeBack(stand, event) {
  if (event?.kind === 'piece-laid') {
    if (!event.whole) stand.hand[event.piece] = stand.laid[event.piece];
    delete stand.laid[event.piece];
  } else if (event?.kind === 'piece-cut') {
    delete stand.hand[event.piece];
    for (const rest of event.rests ?? []) delete stand.shelf[rest.label];
  }
}

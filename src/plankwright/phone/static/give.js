/** The events as a file: given back by this phone, or taken in from another one. */

import { inOrder } from './fold.js';

/** @typedef {import('./fold.js').LayingEvent} LayingEvent */

/** @param {string} job @param {LayingEvent[]} events */
export function eventsText(job, events) {
  const lines = inOrder(events).map((event) => JSON.stringify(event)).join(',\n');
  return `{"format": "plankwright-events", "version": 1, "job": ${JSON.stringify(job)}, "events": [\n${lines}\n]}\n`;
}

/**
 * The events in a file of the same job; throws an Error that says what is wrong.
 * @param {string} text @param {string} job @returns {LayingEvent[]}
 */
export function readEvents(text, job) {
  let entry;
  try {
    entry = JSON.parse(text);
  } catch {
    throw new Error('This is not a file of events.');
  }
  if (entry?.format !== 'plankwright-events' || entry.version !== 1 || !Array.isArray(entry.events)) {
    throw new Error('This is not a file of events.');
  }
  if (entry.job !== job) throw new Error('These events are of another job.');
  const whole = (/** @type {any} */ event) => typeof event?.id === 'string' && Number.isSafeInteger(event.order)
    && event.order > 0 && typeof event.kind === 'string';
  if (!entry.events.every(whole)) throw new Error('An event in this file cannot be read.');
  return entry.events;
}

/** Hand a file to the phone: its share sheet where it has one, else a download. */
export async function giveFile(/** @type {string} */ text, /** @type {string} */ name) {
  const file = new File([text], name, { type: 'application/json' });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

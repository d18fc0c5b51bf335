/** The events as a file: given back by this phone, or taken in from another one. */

import { inOrder } from './fold.js';

/** @typedef {import('./fold.js').LayingEvent} LayingEvent */

/** @param {string} job @param {LayingEvent[]} events @param {import('./keep.js').Photo[]} photos */
export async function eventsText(job, events, photos) {
  const lines = inOrder(events).map((event) => JSON.stringify(event)).join(',\n');
  const pictures = await Promise.all(photos.map(async ({ blob }) => (
    JSON.stringify({ media_type: blob.type, bytes: await base64(blob) }))));
  return `{"format": "plankwright-events", "version": 1, "job": ${JSON.stringify(job)}, "events": [\n${lines}\n],\n`
    + `"photographs": [\n${pictures.join(',\n')}\n]}\n`;
}

/** @param {Blob} blob @returns {Promise<string>} */
function base64(blob) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).split(',')[1] ?? '');
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(blob);
  });
}

const LARGEST_SIDE = 1600;

/**
 * A photograph made small enough to keep, with the digest under which it is kept.
 * @param {Blob} file @returns {Promise<import('./keep.js').Photo>}
 */
export async function smallPhoto(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LARGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = new OffscreenCanvas(Math.round(picture.width * scale), Math.round(picture.height * scale));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.8 });
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', await blob.arrayBuffer()));
  return { digest: Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join(''), blob };
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

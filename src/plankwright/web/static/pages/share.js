/** Taking the job to the phone: as a file that needs no server, or this page over the network. */

import { h, refill } from '../dom.js';
import { RefusedError, call } from '../net.js';
import { words } from '../strings.js';

const w = words.share;

/** A part of a page that loads itself when it is opened. */
export function shareDetails() {
  const inside = h('div', {});
  const details = h('details', { id: 'share', ontoggle: () => { if (details.open) show(inside); } }, h('summary', {}, w.title), inside);
  return details;
}

/** @param {HTMLElement} place */
async function show(place) {
  const { address, danger, devices } = await call('GET', '/api/share');
  refill(place,
    address ? [
      h('p', {}, w.how(address)),
      h('p', { class: 'check' }, h('b', {}, words.checkThis), `: ${danger}`),
      h('p', {}, h('button', { class: 'other', type: 'button', id: 'invite', onclick: () => invite(place) }, w.code)),
      h('div', { id: 'code' }),
    ] : h('p', {}, w.notShared, ' ', h('code', {}, 'plankwright serve --share')),
    devices.length > 0 && [
      h('h3', {}, w.devices),
      h('ul', { class: 'joblist' }, devices.map((/** @type {any} */ device) => h('li', {},
        h('span', { class: 'open' }, device.name),
        h('span', { class: 'pencil' }, w.until(new Date(device.until * 1000))),
        h('button', { class: 'word', type: 'button', 'aria-label': w.revokeOf(device.name), onclick: async () => {
          await call('DELETE', `/api/share/devices/${device.id}`);
          show(place);
        } }, w.revoke)))),
    ]);
}

/** @param {HTMLElement} place */
async function invite(place) {
  const code = place.querySelector('#code');
  if (!code) return;
  try {
    const made = await call('POST', '/api/share/invitation');
    refill(code,
      h('img', { class: 'qr', alt: w.codeWords, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.code.replace('<svg ', '<svg xmlns="http://www.w3.org/2000/svg" '))}` }),
      h('p', { class: 'pencil' }, w.once));
  } catch (error) {
    refill(code, h('p', { class: 'crayon' }, error instanceof RefusedError ? error.refusal.message : words.away));
  }
}

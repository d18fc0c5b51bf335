/** The pairing page: the secret of the scanned code signs this device in, once. */

import { byId, h, refill } from './dom.js';
import { AwayError, RefusedError, call } from './net.js';
import { words } from './strings.js';

const w = words.pair;
let secret = '';

/** Take the secret out of the address: it is not to stand in the history. */
function takeSecret() {
  if (location.hash.length < 2) return;
  secret = location.hash.slice(1);
  history.replaceState(null, '', '/pair');
  show();
}

/** @param {string} [told] */
function show(told = '') {
  refill(byId('page'),
    h('h1', {}, words.app),
    secret ? [
      h('p', {}, w.how),
      h('div', { class: 'field' }, h('label', { for: 'name' }, w.name), h('input', { id: 'name', type: 'text', value: w.phone, maxlength: 60 })),
      h('button', { class: 'main', type: 'button', id: 'pair', onclick: signIn }, w.signIn),
    ] : h('p', {}, w.scan),
    h('p', { class: 'crayon', role: 'alert' }, told));
}

async function signIn() {
  const name = /** @type {HTMLInputElement} */ (byId('name')).value;
  try {
    await call('POST', '/api/pair', { secret, name });
    location.replace('/');
  } catch (error) {
    show(error instanceof RefusedError ? `${error.refusal.message}. ${error.refusal.remedy}` : error instanceof AwayError ? words.away : String(error));
  }
}

window.addEventListener('hashchange', takeSecret);
show();
takeSecret();

/** The list of jobs: start one, open one, copy, bring in, give out. */

import { h, refill } from '../dom.js';
import { AwayError, RefusedError, call, send } from '../net.js';
import { sentence } from '../fields.js';
import { words } from '../strings.js';
import { DRAWINGS, RoomFile, isDrawing } from '../steps/room_file.js';
import { shareDetails } from './share.js';

const w = words.list;

/** @param {HTMLElement} page */
export async function jobsPage(page) {
  document.title = words.app;
  /** @type {any[]} */
  let jobs = [];
  let away = false;
  /** @type {any[]} */
  let putAway = [];
  try {
    jobs = await call('GET', '/api/jobs');
    putAway = await call('GET', '/api/jobs?put_away=true');
  } catch (error) {
    if (!(error instanceof AwayError)) throw error;
    away = true;
    jobs = rememberedJobs();
  }
  const again = () => jobsPage(page);
  refill(page, h('main', { class: 'plain' },
    h('h1', {}, words.app),
    h('p', {}, w.what),
    away && h('p', { class: 'crayon' }, w.away),
    h('p', { class: 'row' },
      h('button', { class: jobs.length ? 'other' : 'main', type: 'button', id: 'newjob', onclick: () => newJob({ document: emptyJob() }) }, w.newJob),
      h('button', { class: 'other', type: 'button', id: 'demo', onclick: () => newJob({ demo: true }, 'plan') }, w.demo)),
    !jobs.length && h('p', { class: 'pencil' }, w.empty),
    h('ul', { class: 'joblist' }, jobs.map((job) => jobLine(job, again))),
    putAway.length > 0 && h('details', { id: 'putaway' }, h('summary', {}, `${w.putAway} (${putAway.length})`),
      h('ul', { class: 'joblist' }, putAway.map((job) => h('li', {}, h('span', { class: 'open' }, job.name || words.nameless),
        h('button', { class: 'word', type: 'button', onclick: async () => { await call('POST', `/api/jobs/${job.id}/take-out`); again(); } }, w.takeOut))))),
    h('div', { class: 'row' },
      h('label', { class: 'other', for: 'bring' }, w.bring),
      h('input', { class: 'unseen', id: 'bring', type: 'file', accept: `.toml,.json,${DRAWINGS}`, onchange: (/** @type {Event} */ event) => bring(event) })),
    h('div', { id: 'brought' }),
    shareDetails(),
    h('p', { id: 'refused', class: 'crayon', role: 'alert' }),
    h('p', { class: 'pencil', id: 'place' })));
  showPlace();
}

/** @param {any} job @param {() => void} again */
function jobLine(job, again) {
  const name = job.name || words.nameless;
  return h('li', {},
    h('a', { class: 'open', href: `#/job/${job.id}/measure` }, name),
    h('span', { class: 'pencil' }, job.changed ? w.changed(new Date(job.changed)) : ''),
    h('button', { class: 'word', type: 'button', 'aria-label': w.copyOf(name), onclick: async () => { await call('POST', `/api/jobs/${job.id}/copy`, { name: w.copyName(name).slice(0, 2000) }); again(); } }, w.copy),
    h('a', { class: 'word', href: `/api/jobs/${job.id}/whole`, download: true, 'aria-label': w.wholeOf(name) }, w.whole),
    h('a', { class: 'word', href: `/api/jobs/${job.id}/file`, download: true, 'aria-label': w.fileOf(name) }, w.file),
    h('button', { class: 'word', type: 'button', 'aria-label': w.removeOf(name), onclick: async () => { await call('DELETE', `/api/jobs/${job.id}`); again(); } }, w.remove));
}

function emptyJob() {
  const inches = /^en-(US|LR)|^my/.test(navigator.language);
  return { job: { name: '', unit: inches ? 'in' : 'mm' } };
}

/** @param {any} body @param {string} [step] */
async function newJob(body, step = 'measure') {
  const job = await call('POST', '/api/jobs', body);
  location.hash = `#/job/${job.id}/${step}`;
}

/** @param {Event} event */
async function bring(event) {
  const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
  if (!file) return;
  if (await isDrawing(file)) return showRooms(file);
  try {
    const job = await call('POST', '/api/jobs/import', { text: await file.text(), name: file.name });
    location.hash = `#/job/${job.id}/measure`;
  } catch (error) {
    const told = error instanceof RefusedError ? `${error.refusal.where}: ${sentence(error.refusal)}` : String(error);
    const place = document.getElementById('refused');
    if (place) place.textContent = told;
  }
}

/** The rooms of a drawing; the one that is taken begins a job. @param {File} file */
function showRooms(file) {
  const place = document.getElementById('brought');
  const rooms = new RoomFile(() => place && refill(place, rooms.view()), (room) => newJob({ document: room.document }));
  rooms.read(file);
}

/** The jobs this device remembers, when the server is away. */
function rememberedJobs() {
  return Object.keys(localStorage).filter((key) => key.startsWith('job:')).map((key) => {
    const kept = JSON.parse(localStorage.getItem(key) ?? '{}');
    return { id: key.slice(4), name: kept.document?.job?.name ?? '', changed: null };
  });
}

async function showPlace() {
  try {
    const { place } = await (await send('GET', '/api/place')).json();
    const line = document.getElementById('place');
    if (line && place) line.textContent = w.place(place);
  } catch {
    // The line is only left out.
  }
}

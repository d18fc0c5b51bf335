/** The page of one job: reads it, keeps what happens, shows what is next. */

import { Day, newId } from './day.js';
import { eventsText, giveFile, readEvents, smallPhoto } from './give.js';
import { openKeep } from './keep.js';
import { at, closeSheet, eventWords, openLog, openSheet, make, show, turnTo } from './view.js';
import { WORDS } from './words.js';

/** @typedef {import('./day.js').What} What */

/** What the next card shows by itself. */
const SHOWN = new Set(['piece-cut', 'piece-laid', 'check-made', 'undone']);

async function begin() {
  /** @type {import('./day.js').Job} */
  const job = JSON.parse(/** @type {string} */ (at('job').textContent));
  const keep = await openKeep(job.id);
  let day = new Day(job, await keep.load(), deviceName(job.id));
  let busy = false;

  /** @param {string} words @param {boolean} [isTrouble] */
  const say = (words, isTrouble = true) => {
    at('told').textContent = words;
    at('told').classList.toggle('check', isTrouble);
  };

  /** What has to be said as long as it is so. */
  const standing = () => (day.isBehind() ? WORDS.behind : keep.lasting ? '' : WORDS.notKept);

  /** Keep events, then show what they come to. @param {import('./fold.js').LayingEvent[]} events */
  async function add(events) {
    await keep.add(events);
    day = day.with(events);
    show(day, actions);
  }

  /** @param {What[]} whats @param {string} [words] what is said of it */
  async function write(whats, words) {
    if (busy) return false;
    const events = day.made(whats);
    const reason = day.refusal(events);
    if (reason) {
      say(`${WORDS.setAside}: ${reason}.`);
      throw new Error(`${WORDS.setAside}: ${reason}.`);
    }
    busy = true;
    try {
      await add(events);
      const told = events.filter((event) => !SHOWN.has(event.kind)).map((event) => eventWords(event, day));
      say(standing() || words || WORDS.written(told), standing() !== '');
      return true;
    } catch {
      say(WORDS.notWritten);
      return false;
    } finally {
      busy = false;
    }
  }

  /** @param {File} file */
  async function photograph(file) {
    try {
      const photo = await smallPhoto(file);
      await keep.addPhoto?.(photo);
      if (await write([{ kind: 'photographed', photo: photo.digest, where: day.card()?.piece ?? '', caption: '' }])) {
        say(WORDS.photographed, false);
      }
    } catch {
      say(WORDS.noPhoto);
    }
  }

  const actions = {
    write,
    day: () => day,
    takeBack: async () => {
      const last = day.last();
      if (last && !job.events.some((event) => event.id === last.id)) {
        const told = eventWords(last, day);
        if (await write([{ kind: 'undone', event: last.id }]) && !standing()) say(WORDS.back(told), false);
      } else say(WORDS.empty);
    },
    give: async () => giveFile(await eventsText(job.id, day.events, await keep.photos()), fileName(job.name)),
    photograph: keep.addPhoto && window.isSecureContext ? photograph : null,
    takeIn: async (/** @type {File} */ file) => {
      try {
        const known = new Set(day.events.map((event) => event.id));
        const more = readEvents(await file.text(), job.id).filter((event) => !known.has(event.id));
        await add(more);
        openLog(day, actions);
        say([WORDS.took(more.length), standing()].join(' ').trim(), standing() !== '');
      } catch (error) {
        openSheet(WORDS.setAside, [make('p', { class: 'check' }, [/** @type {Error} */ (error).message])]);
      }
    },
  };

  at('to-floor').addEventListener('click', () => turnTo('floor'));
  at('to-saw').addEventListener('click', () => turnTo('saw'));
  at('to-log').addEventListener('click', () => openLog(day, actions));
  at('floor').addEventListener('click', () => zoom(day));
  at('sheet').addEventListener('click', (event) => { if (event.target === at('sheet')) closeSheet(); });
  say(standing());
  show(day, actions);
  document.documentElement.dataset.ready = 'yes';
}

/** A tap on the floor goes near to the next piece and back. @param {Day} day */
function zoom(day) {
  const svg = at('floor').querySelector('svg');
  const piece = day.card()?.piece;
  const group = [...at('floor').querySelectorAll('[data-key]')].find((one) => /** @type {HTMLElement} */ (one).dataset.key === piece);
  if (!svg || !group) return;
  const whole = svg.dataset.whole ?? svg.getAttribute('viewBox') ?? '';
  svg.dataset.whole = whole;
  if (svg.getAttribute('viewBox') !== whole) {
    svg.setAttribute('viewBox', whole);
    return;
  }
  const [, , width, height] = whole.split(' ').map(Number);
  const box = /** @type {SVGGraphicsElement} */ (group).getBBox();
  const [near, low] = [width / 2.5, height / 2.5];
  svg.setAttribute('viewBox', `${box.x + box.width / 2 - near / 2} ${box.y + box.height / 2 - low / 2} ${near} ${low}`);
}

/** A name of this phone that stays. @param {string} job */
function deviceName(job) {
  try {
    const key = `plankwright ${job} device`;
    const known = localStorage.getItem(key) ?? `phone ${newId().slice(0, 6)}`;
    localStorage.setItem(key, known);
    return known;
  } catch {
    return `phone ${newId().slice(0, 6)}`;
  }
}

/** @param {string} name */
function fileName(name) {
  const plain = name.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  return `${plain || 'job'}-events.json`;
}

begin();

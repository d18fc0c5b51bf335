/** What is on the screen: one card, the floor or the board at the saw, one main action. */

import { takenBack } from './fold.js';
import { formatLength } from './lengths.js';
import { MISHAPS } from './mishaps.js';
import { WORDS } from './words.js';

/**
 * @typedef {import('./day.js').Day} Day
 * @typedef {import('./day.js').Card} Card
 * @typedef {import('./day.js').What} What
 * @typedef {object} Actions
 * @property {(whats: What[], words?: string) => Promise<boolean>} write
 * @property {() => Promise<void>} takeBack
 * @property {() => Day} day the day as it is now
 * @property {() => Promise<void>} give
 * @property {((file: File) => Promise<void>) | null} photograph
 * @property {(file: File) => Promise<void>} takeIn
 */

/** @param {string} id @returns {HTMLElement} */
export function at(id) {
  return /** @type {HTMLElement} */ (document.getElementById(id));
}

/**
 * An element with what is in it.
 * @param {string} name @param {Record<string, any>} [how] @param {(Node | string)[]} [inside]
 */
export function make(name, how = {}, inside = []) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(how)) {
    if (typeof value === 'function') element.addEventListener(key, value);
    else if (value !== false && value !== undefined) element.setAttribute(key, value === true ? '' : value);
  }
  element.append(...inside);
  return element;
}

/**
 * A button; what it refuses to do is told on the page, so nothing may lie over that.
 * @param {string} words @param {() => unknown} act @param {string} [look]
 */
function button(words, act, look = 'other') {
  const click = async () => {
    try {
      await act();
    } catch {
      closeSheet();
    }
  };
  return make('button', { type: 'button', class: look, click }, [words]);
}

/** Show a day. @param {Day} day @param {Actions} actions */
export function show(day, actions) {
  const card = day.card(), check = day.check();
  at('left').textContent = card ? WORDS.left(day.job.cards.length - laidCount(day)) : '';
  showFloor(day, card);
  showPicture(day, check ? undefined : card);
  if (check) showCheck(day, check, actions);
  else if (card) showCard(day, card, actions);
  else showFinished(day, actions);
}

/** @param {Day} day */
function laidCount(day) {
  return day.job.cards.filter((card) => day.state.laid.has(card.piece)).length;
}

/** @param {Day} day @param {Card | undefined} card */
function showFloor(day, card) {
  for (const group of at('floor').querySelectorAll('[data-key]')) {
    const piece = /** @type {HTMLElement} */ (group).dataset.key ?? '';
    group.classList.toggle('is-laid', day.state.laid.has(piece));
    group.classList.toggle('is-damaged', day.state.laid.get(piece)?.damaged ?? false);
    group.classList.toggle('is-next', piece === card?.piece);
  }
}

/** The board at the saw for a card that is cut, else the floor. @param {Day} day @param {Card} [card] */
function showPicture(day, card) {
  const drawn = card && !day.isInHand(card.piece) ? card.picture : '';
  const saw = at('saw');
  saw.replaceChildren();
  if (drawn) saw.append(document.importNode(new DOMParser().parseFromString(drawn, 'image/svg+xml').documentElement, true));
  /** @type {HTMLButtonElement} */ (at('to-saw')).disabled = !drawn;
  turnTo(drawn ? 'saw' : 'floor');
}

/** @param {'floor' | 'saw'} side */
export function turnTo(side) {
  for (const one of ['floor', 'saw']) {
    at(one).hidden = one !== side;
    at(`to-${one}`).setAttribute('aria-pressed', String(one === side));
  }
}

/** @param {Day} day @param {Card} card @param {Actions} actions */
function showCard(day, card, actions) {
  const inHand = day.isInHand(card.piece);
  const lines = inHand ? [WORDS.inHand, ...card.lay_lines] : card.lines;
  at('card').replaceChildren(
    make('h1', {}, [card.place]),
    ...(inHand ? [] : [make('p', {}, [card.take]), make('p', { class: 'figure' }, [unbroken(card.figure)])]),
    make('ol', { class: 'lines' }, lines.map((line) => make('li', {}, [unbroken(line)]))),
  );
  at('actions').replaceChildren(
    button(card.cut && !inHand ? WORDS.doneCut : WORDS.done, () => actions.write(day.done(card)), 'main'),
    make('div', { class: 'row' }, [
      ...(card.cut && !inHand ? [button(WORDS.onlyCut, () => actions.write([day.cut(/** @type {What} */ (card.cut))]))] : []),
      button(WORDS.other, () => openMenu(day, actions)),
      button(WORDS.takeBack, actions.takeBack),
    ]),
  );
}

/** Words in which no length is broken over two lines: inches stay with their fraction. @param {string} words */
function unbroken(words) {
  return words.replace(/(\d) (?=\d)/g, '$1\u00a0');
}

/** @param {Day} day @returns {Node[]} */
function forecastLines(day) {
  const forecast = day.forecast();
  if (!forecast) return [];
  if (forecast.is_misread) return [make('p', { class: 'check' }, [WORDS.misread])];
  const { has_open_joints: open, is_narrow: narrow } = forecast;
  const told = WORDS.lastRow(open ? forecast.closed_last_row_mm : forecast.last_row_mm, day.job.unit);
  return [
    ...(open ? [make('p', { class: 'check' }, [WORDS.openJoints])] : []),
    make('p', {}, [told]),
    ...(narrow ? [make('p', { class: 'check' }, [WORDS.narrowRow])] : []),
  ];
}

/** @param {Day} day @param {import('./day.js').Check} check @param {Actions} actions */
function showCheck(day, check, actions) {
  at('card').replaceChildren(
    make('h1', {}, [`${WORDS.checkTitle}: ${check.title.toLowerCase()}`]),
    ...forecastLines(day),
    make('ul', { class: 'lines' }, check.items.map((item) => make('li', {}, [item]))),
  );
  const { row } = check;
  const measure = row === null ? [] : [button(WORDS.farWall, () => openMishap('measured', day, actions, { row }))];
  at('actions').replaceChildren(
    button(WORDS.checkGood, () => actions.write([{ kind: 'check-made', check: check.name, good: true }]), 'main'),
    make('div', { class: 'row' }, [...measure, button(WORDS.other, () => openMenu(day, actions)), button(WORDS.takeBack, actions.takeBack)]),
  );
}

/** @param {Day} day @param {Actions} actions */
function showFinished(day, actions) {
  at('card').replaceChildren(make('h1', {}, [WORDS.finished]), make('p', {}, [WORDS.finishedMore]));
  at('actions').replaceChildren(
    button(WORDS.give, actions.give, 'main'),
    make('div', { class: 'row' }, [button(WORDS.other, () => openMenu(day, actions)), button(WORDS.takeBack, actions.takeBack)]),
  );
}

// --- what else happened ----------------------------------------------------------------------

/** @param {Day} day @param {Actions} actions */
function openMenu(day, actions) {
  const card = day.card();
  const direct = [button(WORDS.menu.cuts, () => openCuts(day, actions))];
  if (card?.wrong_end && !day.isInHand(card.piece)) {
    direct.push(button(WORDS.menu.wrongEnd, () => keepWrongEnd(day.wrongEnd(/** @type {What[]} */ (card.wrong_end)), actions)));
  }
  if (card && day.isInHand(card.piece)) {
    direct.push(button(WORDS.menu.spoiled, () => act([{ kind: 'piece-spoiled', piece: card.piece }], actions)));
  }
  const asked = Object.keys(MISHAPS).map((name) => button(
    WORDS.menu[/** @type {keyof typeof WORDS.menu} */ (name)], () => openMishap(name, day, actions, {}),
  ));
  openSheet(WORDS.happened, [make('div', { class: 'column' }, [...direct, ...camera(actions), ...asked])]);
}

/** @param {Actions} actions @returns {Node[]} */
function camera(actions) {
  const { photograph } = actions;
  if (!photograph) return [];
  const file = picker('photograph', { accept: 'image/*', capture: 'environment' }, async (chosen) => {
    closeSheet();
    await photograph(chosen);
  });
  return [make('label', { for: 'photograph', class: 'other' }, [WORDS.menu.photograph]), file];
}

/** A field that picks a file, behind its label. @param {string} id @param {object} how @param {(file: File) => unknown} act */
function picker(id, how, act) {
  const input = make('input', {
    type: 'file', id, class: 'unseen', ...how,
    change: () => {
      const [chosen] = /** @type {HTMLInputElement} */ (input).files ?? [];
      if (chosen) act(chosen);
    },
  });
  return input;
}

const CUTS_A_WALK = 12;

/** What can be cut on one walk to the saw, each with its own button. @param {Day} day @param {Actions} actions */
function openCuts(day, actions) {
  const cuts = day.cuts().slice(0, CUTS_A_WALK);
  const list = make('ol', { class: 'lines' }, cuts.map((card) => make('li', { class: 'cut' }, [
    make('div', {}, [make('b', {}, [card.piece]), ` ${card.take}. `, make('b', {}, [unbroken(card.figure)]), ` ${card.keep}`]),
    button(WORDS.cutNow, async () => {
      if (await actions.write([day.cut(/** @type {What} */ (card.cut))])) openCuts(actions.day(), actions);
    }),
  ])));
  openSheet(WORDS.cutsTitle, cuts.length ? [list] : [make('p', {}, [WORDS.noCuts])]);
}

/** @param {What[]} whats @param {Actions} actions @param {string} [words] what is said of it then */
async function act(whats, actions, words) {
  if (await actions.write(whats, words)) closeSheet();
}

/** Both parts wait on the shelf; they must bear the marks that the log knows them by. @param {What[]} whats @param {Actions} actions */
async function keepWrongEnd(whats, actions) {
  const marks = whats.flatMap((what) => [what, ...(what.rests ?? [])]).map((part) => part.label).filter(Boolean).sort();
  await act(whats, actions, WORDS.wrongEndKept(marks));
}

/** @param {string} name @param {Day} day @param {Actions} actions @param {Record<string, any>} known */
function openMishap(name, day, actions, known) {
  const mishap = MISHAPS[name];
  const trouble = make('p', { class: 'check', role: 'alert' });
  const form = make('form', {
    submit: async (/** @type {Event} */ event) => {
      event.preventDefault();
      try {
        await act(mishap.events(new FormData(/** @type {HTMLFormElement} */ (form)), day), actions);
      } catch (error) {
        trouble.textContent = /** @type {Error} */ (error).message;
      }
    },
  }, [...mishap.fields(day, known), trouble, make('button', { class: 'main' }, [WORDS.write])]);
  openSheet(WORDS.menu[/** @type {keyof typeof WORDS.menu} */ (name)], [form]);
  /** @type {HTMLElement | null} */ (form.querySelector('input:not([value]), input'))?.focus();
}

/** @param {string} title @param {Node[]} inside */
export function openSheet(title, inside) {
  const sheet = /** @type {HTMLDialogElement} */ (at('sheet'));
  sheet.replaceChildren(
    make('div', { class: 'head' }, [make('h2', { id: 'sheet-title' }, [title]), button(WORDS.close, closeSheet)]),
    ...inside,
  );
  if (!sheet.open) sheet.showModal();
}

export function closeSheet() {
  /** @type {HTMLDialogElement} */ (at('sheet')).close();
}

// --- the log ---------------------------------------------------------------------------------

/** @param {Day} day @param {Actions} actions */
export function openLog(day, actions) {
  const back = takenBack(day.events);
  const told = day.events.filter((event) => event.kind !== 'undone').reverse();
  const file = picker('take-in', { accept: 'application/json,.json' }, actions.takeIn);
  openSheet(WORDS.log, [
    button(WORDS.give, actions.give, 'main'),
    make('p', { class: 'pencil' }, [WORDS.giveMore]),
    make('label', { for: 'take-in', class: 'other' }, [WORDS.takeIn]), file,
    told.length ? make('ol', { class: 'log' }, told.map((event) => logLine(event, day, back))) : make('p', {}, [WORDS.empty]),
  ]);
}

/** What happened, in a few words. @param {import('./fold.js').LayingEvent} event @param {Day} day */
export function eventWords(event, day) {
  const row = event.row === undefined ? '' : WORDS.row(event.row);
  const about = event.piece ?? event.label ?? event.where ?? event.check ?? event.pack ?? row;
  const size = event.kind === 'distance-measured' ? event.length_mm : event.gap_mm;
  const told = size === undefined ? event.text ?? '' : formatLength(size, day.job.unit);
  const mark = event.kind === 'piece-shelved' ? WORDS.marked(event.label) : '';
  return unbroken([WORDS.kinds[event.kind] ?? event.kind, about, mark, told].filter(Boolean).join(' '));
}

/** @param {import('./fold.js').LayingEvent} event @param {Day} day @param {Set<string>} back */
function logLine(event, day, back) {
  const reason = day.state.set_aside.get(event.id);
  const when = new Date(event.at);  // shown in the phone's own time
  const time = Number.isNaN(when.getTime()) ? '' : when.toTimeString().slice(0, 5);
  const line = make('li', {}, [`${time} ${eventWords(event, day)}`.trim()]);
  if (back.has(event.id)) line.append(make('span', { class: 'pencil' }, [` (${WORDS.tookBack})`]));
  if (reason) line.append(make('span', { class: 'check' }, [` ${WORDS.setAside}: ${reason}`]));
  return line;
}

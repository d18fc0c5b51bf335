/** Rooms in a drawing: the file is read on the server, its rooms stand in a list, one is taken. */

import { h, s } from '../dom.js';
import { boundsOf, pathOf } from '../drawing/stage.js';
import { checks, sentence } from '../fields.js';
import { AwayError, RefusedError, call, send } from '../net.js';
import { follow } from '../progress.js';
import { words } from '../strings.js';

/** @typedef {{id: string, name: string, storey: string, area: string, size: string, doors: number, fixed: number, outline: number[][], doubts: any[], document: any}} FoundRoom */

const w = words.drawings;
export const DRAWINGS = '.dxf,.ifc,.geojson';
const LARGEST_BYTES = 60_000_000; // as guard.py has it
const LONGEST_NAME = 200;
const SHOWN = 12;

export class RoomFile {
  /**
   * @param {() => void} refresh what is shown has changed
   * @param {(room: FoundRoom) => void} take
   * @param {string} [toldIn] the unit of the sizes that are shown
   */
  constructor(refresh, take, toldIn = '') {
    this.toldIn = toldIn;
    this.refresh = refresh;
    this.take = take;
    /** @type {File | null} */
    this.file = null;
    this.unit = '';
    this.layer = '';
    this.filter = '';
    this.forget();
  }

  /** Nothing is known of the file yet. */
  forget() {
    this.waiting = false;
    /** @type {any} */
    this.found = null;
    this.refused = '';
    /** @type {() => void} */
    this.leave = () => {};
  }

  /** Put the drawing away. */
  close() {
    this.leave();
    this.forget();
    Object.assign(this, { file: null, unit: '', layer: '', filter: '' });
    this.refresh();
  }

  /** Read a file, or the same one in another way. @param {File} file */
  async read(file) {
    this.leave();
    this.forget();
    this.file = file;
    if (file.size > LARGEST_BYTES) return this.refuse(w.tooLarge(Math.ceil(file.size / 1e6)));
    this.waiting = true;
    this.refresh();
    const asked = new URLSearchParams({ name: file.name.slice(-LONGEST_NAME) });
    if (this.unit) asked.set('unit', this.unit);
    if (this.toldIn) asked.set('told_in', this.toldIn);
    if (this.layer) asked.set('layer', this.layer);
    try {
      const work = await (await send('POST', `/api/rooms?${asked}`, file)).json();
      const unfollow = follow(work.id, {
        told: () => {},
        done: (found) => this.show(found),
        failed: (refusal) => this.refuse(refusal ? sentence(refusal) : words.noNetwork),
      });
      this.leave = () => {
        unfollow();
        if (this.waiting) call('DELETE', `/api/work/${work.id}`).catch(() => {});
      };
    } catch (error) {
      if (error instanceof RefusedError) this.refuse(sentence(error.refusal));
      else this.refuse(error instanceof AwayError ? words.noNetwork : String(error));
    }
  }

  /** @param {string} told */
  refuse(told) {
    this.waiting = false;
    this.refused = told;
    this.refresh();
  }

  /** @param {any} found */
  show(found) {
    this.waiting = false;
    this.found = found;
    this.refresh();
  }

  /** The field that asks for a file. @param {string} look of its label */
  field(look) {
    return [
      h('label', { class: look, for: 'roomfile' }, w.pick),
      h('input', { class: 'unseen', id: 'roomfile', type: 'file', accept: DRAWINGS, onchange: (/** @type {Event} */ event) => this.chosen(event) }),
    ];
  }

  /** @param {Event} event */
  chosen(event) {
    const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
    if (file) this.read(file);
  }

  /** What is known of the file; nothing before one is chosen. */
  view() {
    const { file } = this;
    if (!file) return null;
    return h('section', { class: 'roomfile', id: 'roomsfound', 'aria-live': 'polite' },
      this.waiting && h('p', { role: 'status' }, w.reading(file.name), ' ', h('button', { class: 'word', type: 'button', onclick: () => this.close() }, w.stop)),
      this.refused && h('div', { class: 'check' }, h('b', {}, words.checkThis), ` (${file.name}): ${this.refused}`),
      this.found && this.rooms(file.name),
      !this.waiting && !/\.ifc$/i.test(file.name) && this.otherwise(file),
      !this.waiting && h('p', {}, h('button', { class: 'word', type: 'button', onclick: () => this.close() }, w.close)));
  }

  /** @param {string} name */
  rooms(name) {
    const { rooms, doubts, findings, left } = this.found;
    const told = new Set(doubts.map((/** @type {any} */ doubt) => doubt.message));
    const rest = findings.filter((/** @type {any} */ finding) => !rooms.length || !told.has(finding.message));
    const part = this.filter.toLowerCase();
    const fitting = rooms.filter((/** @type {FoundRoom} */ room) => nameOf(room).toLowerCase().includes(part));
    return [
      h('h3', {}, rooms.length ? w.title(rooms.length + left, name) : w.none(name)),
      rooms.length > 0 && h('p', { class: 'pencil' }, w.compare),
      rooms.length > 0 && checks(doubts),
      rooms.length > SHOWN && this.filterField(),
      h('ul', { class: 'choices' }, fitting.slice(0, SHOWN).map((/** @type {FoundRoom} */ room) => this.room(room))),
      fitting.length > SHOWN && h('p', { class: 'pencil' }, w.more(fitting.length - SHOWN)),
      left > 0 && h('p', { class: 'pencil' }, w.left(left)),
      rest.length > 0 && h('details', { id: 'roomfile-told', open: !rooms.length }, h('summary', {}, w.told(rest.length)), checks(rest)),
    ];
  }

  filterField() {
    return h('div', { class: 'field' },
      h('label', { for: 'roomfilter' }, w.filter),
      h('input', {
        id: 'roomfilter', type: 'text', autocomplete: 'off', maxlength: 200, value: this.filter,
        oninput: (/** @type {Event} */ event) => { this.filter = valueOf(event); this.refresh(); },
      }));
  }

  /** @param {FoundRoom} room */
  room(room) {
    const name = nameOf(room);
    const more = [
      room.storey && w.storey(room.storey),
      room.doors && w.doors(room.doors),
      room.fixed && w.fixed(room.fixed),
    ].filter(Boolean);
    return h('li', {},
      outlineOf(room.outline),
      h('div', {},
        h('b', {}, name),
        h('p', {}, `${room.area}, ${room.size}`),
        more.length > 0 && h('p', { class: 'pencil' }, more.join(', ')),
        checks(room.doubts),
        h('button', { class: 'other', type: 'button', 'aria-label': w.takeOf(name), onclick: () => this.take(room) }, w.take)));
  }

  /** The unit and the layer, where the file leaves them in doubt. @param {File} file */
  otherwise(file) {
    const unit = h('select', { id: 'roomunit', onchange: (/** @type {Event} */ event) => { this.unit = valueOf(event); } },
      [['', w.asFile], ...Object.entries(w.units)].map(([value, told]) => h('option', { value, selected: value === this.unit }, told)));
    const layer = h('input', {
      id: 'roomlayer', type: 'text', autocomplete: 'off', maxlength: 200, value: this.layer, 'aria-describedby': 'roomlayer-told',
      oninput: (/** @type {Event} */ event) => { this.layer = valueOf(event).trim(); },
      onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && this.read(file),
    });
    return h('details', { id: 'roomfile-otherwise', open: Boolean(this.refused || this.unit || this.layer) }, h('summary', {}, w.otherwise),
      h('div', { class: 'two' },
        h('div', { class: 'field' }, h('label', { for: 'roomunit' }, w.counts), unit),
        /\.dxf$/i.test(file.name) && h('div', { class: 'field' }, h('label', { for: 'roomlayer' }, w.layer), layer, h('span', { class: 'told', id: 'roomlayer-told' }, w.layerHelp))),
      h('button', { class: 'other', type: 'button', id: 'readagain', onclick: () => this.read(file) }, w.again));
  }
}

/** Whether a file is a drawing, out of which rooms must be found first. @param {File} file */
export async function isDrawing(file) {
  if (/\.(dxf|ifc|geojson)$/i.test(file.name)) return true;
  if (!/\.json$/i.test(file.name) || file.size > LARGEST_BYTES) return false;
  return /"type"\s*:\s*"(Feature|FeatureCollection|Polygon|MultiPolygon)"/.test(await file.slice(0, 2000).text());
}

/** @param {FoundRoom} room */
function nameOf(room) {
  return room.name || room.id || w.nameless;
}

/** A room small. @param {number[][]} rings */
function outlineOf(rings) {
  const [x0, y0, x1, y1] = boundsOf(rings);
  const line = Math.max(x1 - x0, y1 - y0) / 65;
  return s('svg', { class: 'thumb', viewBox: `${x0 - line} ${-y1 - line} ${x1 - x0 + 2 * line} ${y1 - y0 + 2 * line}`, 'aria-hidden': 'true' },
    s('path', { class: 'smallroom', d: pathOf(rings), 'stroke-width': line, 'fill-rule': 'evenodd' }));
}

/** @param {Event} event */
function valueOf(event) {
  return /** @type {HTMLInputElement} */ (event.target).value;
}

/** The open job: its document, undo and redo, and keeping it at once. */

import { AwayError, RefusedError, call } from './net.js';

/** @typedef {Record<string, any>} Doc */
/** @typedef {'kept' | 'keeping' | 'away' | 'changed elsewhere' | 'refused'} KeptState */

const MOST_UNDO = 200;
const PAUSE_MS = 150;

export class Job extends EventTarget {
  /** @param {{id: string, revision: number, document: Doc}} body */
  constructor(body) {
    super();
    this.id = body.id;
    this.revision = body.revision;
    this.document = body.document;
    /** @type {string[]} */
    this.undoable = [];
    /** @type {string[]} */
    this.redoable = [];
    /** @type {KeptState} */
    this.kept = 'kept';
    this.lastLabel = '';
    this.timer = 0;
    this.sending = false;
    this.dirty = false;
  }

  get unit() {
    return this.document.job?.unit ?? 'mm';
  }

  /**
   * A table of the document, made where it is missing.
   * @param {...string} path
   * @returns {Doc}
   */
  table(...path) {
    let table = this.document;
    for (const key of path) table = table[key] ??= {};
    return table;
  }

  /**
   * Change the document: what was before can be had back. Changes under the same label that
   * follow each other (typing in one field, one drag) are undone together.
   * @param {string} label
   * @param {(document: Doc) => void} change
   */
  change(label, change) {
    const before = JSON.stringify(this.document);
    const next = structuredClone(this.document);
    change(next);
    if (JSON.stringify(next) === before) return;
    if (!label || label !== this.lastLabel || !this.undoable.length) {
      this.undoable.push(before);
      if (this.undoable.length > MOST_UNDO) this.undoable.shift();
    }
    this.lastLabel = label;
    this.redoable = [];
    this.document = next;
    this.tell();
  }

  /** End a row of changes that are undone together. */
  settle() {
    this.lastLabel = '';
  }

  undo() {
    this.step(this.undoable, this.redoable);
  }

  redo() {
    this.step(this.redoable, this.undoable);
  }

  /**
   * @param {string[]} from
   * @param {string[]} to
   */
  step(from, to) {
    const text = from.pop();
    if (text === undefined) return;
    to.push(JSON.stringify(this.document));
    this.document = JSON.parse(text);
    this.lastLabel = '';
    this.tell(true);
  }

  /** @param {boolean} [stepped] whether fields must show other values than were typed */
  tell(stepped = false) {
    this.dirty = true;
    this.setKept('keeping');
    this.remember();
    this.dispatchEvent(new CustomEvent('change', { detail: { stepped } }));
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.keep(), PAUSE_MS);
  }

  /** Keep the document on this device too: nothing is lost when the network is gone. */
  remember() {
    try {
      localStorage.setItem(
        `job:${this.id}`,
        JSON.stringify({ revision: this.revision, document: this.document, dirty: this.dirty }),
      );
    } catch {
      // A full or forbidden storage must not stop the work: the server still keeps it.
    }
  }

  /** Send the document, again and again until it is kept. */
  async keep() {
    if (this.sending || !this.dirty) return;
    this.sending = true;
    this.dirty = false;
    try {
      const body = { revision: this.revision, document: this.document };
      const kept = await call('PUT', `/api/jobs/${this.id}`, body);
      this.revision = kept.revision;
      if (!this.dirty) this.setKept('kept');
      this.remember();
    } catch (error) {
      this.dirty = true;
      this.failed(error);
    }
    this.sending = false;
    if (this.dirty && this.kept === 'keeping') this.keep();
  }

  /** Somebody else changed the job: this device's document goes on top of theirs. */
  async keepMine() {
    const theirs = await call('GET', `/api/jobs/${this.id}`);
    this.revision = theirs.revision;
    this.tell();
  }

  /** Somebody else changed the job: theirs is shown; this device's can be had back by undo. */
  async takeTheirs() {
    const theirs = await call('GET', `/api/jobs/${this.id}`);
    this.undoable.push(JSON.stringify(this.document));
    this.revision = theirs.revision;
    this.document = theirs.document;
    this.dirty = false;
    this.remember();
    this.setKept('kept');
    this.dispatchEvent(new CustomEvent('change', { detail: { stepped: true } }));
  }

  /** @param {unknown} error */
  failed(error) {
    if (error instanceof AwayError) {
      this.setKept('away');
      this.timer = window.setTimeout(() => this.keep(), 2000);
    } else if (error instanceof RefusedError && error.status === 409) {
      this.setKept('changed elsewhere');
    } else {
      this.setKept('refused');
    }
  }

  /** @param {KeptState} state */
  setKept(state) {
    this.kept = state;
    this.dispatchEvent(new Event('kept'));
  }
}

/**
 * Load a job; with the network gone, as this device last had it.
 * @param {string} id
 */
export async function loadJob(id) {
  const text = localStorage.getItem(`job:${id}`);
  const own = text ? JSON.parse(text) : null;
  try {
    const body = await call('GET', `/api/jobs/${id}`);
    const job = new Job(body);
    if (own?.dirty) {
      job.document = own.document;
      job.revision = own.revision;
      if (own.revision === body.revision) job.tell();
      else job.setKept('changed elsewhere');
    }
    return job;
  } catch (error) {
    if (!(error instanceof AwayError) || !own) throw error;
    const job = new Job({ id, ...own });
    job.dirty = own.dirty;
    job.setKept('away');
    job.timer = window.setTimeout(() => job.keep(), 2000);
    return job;
  }
}

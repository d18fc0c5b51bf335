/** Plans for the open job: one at once while something moves, the proven one when it rests. */

import { AwayError, RefusedError, call, latest } from './net.js';
import { readPicture } from './drawing/picture.js';
import { follow } from './progress.js';

/** @typedef {import('./drawing/picture.js').Picture} Picture */
/** @typedef {'none' | 'now' | 'looking' | 'proven'} PlanState */

const REST_MS = 500;

export class Planner {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    /** @type {Picture | null} */
    this.picture = null;
    /** @type {any} the plan as it came */
    this.raw = null;
    /** @type {PlanState} */
    this.state = 'none';
    this.told = '';
    this.tried = '';
    this.timer = 0;
    /** @type {(() => void) | null} */
    this.leave = null;
    /** @type {string | null} */
    this.work = null;
    this.asked = 0;
    /** @type {number[]} how long answers took [ms], for the benchmark */
    this.answers = [];
    /** How many plans were asked for at once, and which of them is shown. */
    this.numbers = 0;
    this.shown = 0;
    this.now = latest(
      (asked) => this.ask(asked),
      (raw, asked) => {
        this.shown = asked.number;
        if (asked.moving) this.move(raw);
        else this.take(raw, 'now');
      },
      (error) => this.fail(error),
    );
  }

  /** @param {{document: any, moving: boolean}} asked */
  async ask({ document, moving }) {
    const begun = performance.now();
    const raw = await call('POST', moving ? '/api/plan-moving' : '/api/plan-now', { document });
    this.answers.push(performance.now() - begun);
    return raw;
  }

  /** Whether what is shown is not what was asked for last: the start line has moved on. */
  get isPassing() {
    return this.shown !== this.numbers;
  }

  /** Whether the open step shows a plan. */
  get wanted() {
    return !['measure', 'slab', 'board'].includes(this.bench.open);
  }

  /** The document changed: what was planned is no longer its plan. */
  changed() {
    if (this.planned(this.bench.job.document) === this.tried) return;
    this.stop();
    this.state = this.picture ? 'now' : 'none';
    if (this.wanted) this.plan(this.bench.job.document);
    else if (this.picture) this.forget();
  }

  forget() {
    this.picture = null;
    this.state = 'none';
    this.tried = '';
  }

  /** The part of a document that a plan depends on. @param {any} document */
  planned(document) {
    const { room, board, rules, laying, job } = document;
    return JSON.stringify([room, board, rules, laying, job?.unit]);
  }

  roomKnown() {
    if (this.wanted && this.bench.measured?.room && this.tried === '') this.plan(this.bench.job.document);
  }

  /** @param {any} document */
  plan(document) {
    this.tried = this.planned(document);
    this.askNow(document);
    this.rest();
  }

  /** While something is dragged: an answer at once, nothing kept. @param {any} laying */
  drag(laying) {
    this.stop();
    this.tried = ''; // what is shown soon is no document's plan
    const { document } = this.bench.job;
    this.askNow({ ...document, laying: { ...document.laying, ...laying } }, true);
  }

  /** The start line was let go, and the document may be what it was before. */
  rested() {
    if (this.tried === '') this.plan(this.bench.job.document);
  }

  /** @param {any} document @param {boolean} [moving] */
  askNow(document, moving = false) {
    this.numbers += 1;
    this.now({ document, moving, number: this.numbers });
  }

  /**
   * While the start line is dragged its rows and figures are drawn, nothing more.
   * @param {{rows: [string, string][], figures: any}} moving
   */
  move({ rows, figures }) {
    const { bench } = this;
    if (!bench.chalk.held || !this.picture) return;
    this.state = 'now';
    this.picture = { ...this.picture, figures };
    bench.pieces.move(rows);
    bench.step.live?.(bench);
  }

  /** When the hand has rested for a while, look for the proven plan. */
  rest() {
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.prove(), REST_MS);
  }

  async prove() {
    if (!this.picture || !this.wanted) return;
    const asked = ++this.asked;
    try {
      const work = await call('POST', '/api/plan', { document: this.bench.job.document });
      if (asked !== this.asked) return void call('DELETE', `/api/work/${work.id}`);
      this.work = work.id;
      this.state = 'looking';
      this.leave = follow(work.id, {
        told: (shown) => this.looking(shown.seconds),
        done: (raw) => this.take(raw, 'proven'),
        failed: () => this.settle('now'),
      });
    } catch (error) {
      if (!(error instanceof AwayError)) this.fail(error);
    }
  }

  /** @param {number} seconds */
  looking(seconds) {
    this.told = String(Math.round(seconds));
    this.bench.fillColumn();
  }

  /** The best so far is good enough. */
  enough() {
    if (this.work) call('DELETE', `/api/work/${this.work}`).catch(() => {});
  }

  /** Stop looking; what comes of it is not wanted any more. */
  stop() {
    window.clearTimeout(this.timer);
    this.asked += 1;
    this.leave?.();
    this.enough();
    this.leave = this.work = null;
  }

  /** @param {any} raw @param {PlanState} state */
  take(raw, state) {
    this.raw = raw;
    this.picture = readPicture(raw);
    this.bench.refusal = null;
    if (state === 'proven') {
      this.shown = this.numbers;
      this.leave = this.work = null;
    }
    this.settle(state);
  }

  /** @param {PlanState} state */
  settle(state) {
    this.state = state;
    const { bench } = this;
    if (bench.chalk.held) {
      bench.pieces.show(this.picture);
      bench.step.live?.(bench);
      return;
    }
    bench.draw();
    bench.markPieces();
    bench.step.enter?.(bench);
    bench.fillColumn();
  }

  /** @param {unknown} error */
  fail(error) {
    this.shown = this.numbers;
    if (error instanceof RefusedError) {
      this.forget();
      this.tried = this.planned(this.bench.job.document);
      this.bench.refusal = error.refusal;
      this.bench.draw();
    }
    this.bench.fillColumn();
  }
}

/** A sheet shown in the place of the floor: a map, strips, trim. */

import { h, refill } from '../dom.js';
import { send } from '../net.js';
import { words } from '../strings.js';

export class SheetView {
  /** @param {import('../bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    this.shown = '';
    this.url = '';
    this.place = h('div', { class: 'sheetview', hidden: true });
    bench.drawing.append(this.place);
  }

  /**
   * Fetch a drawing and show it; asked again for the same it only shows it.
   * @param {string} path
   * @param {string} name
   */
  async show(path, name) {
    const { document } = this.bench.job;
    const key = path + JSON.stringify(document);
    if (key === this.shown) return;
    this.shown = key;
    try {
      const picture = await (await send('POST', path, { document })).blob();
      if (this.shown === key) this.put(picture, name);
    } catch {
      this.hide();
    }
  }

  /** @param {Blob} picture @param {string} name */
  put(picture, name) {
    if (this.url) URL.revokeObjectURL(this.url);
    this.url = URL.createObjectURL(picture);
    refill(this.place,
      h('div', { class: 'scroll', tabindex: 0 }, h('img', { src: this.url, alt: name })),
      h('div', { class: 'views' },
        h('button', { class: 'word', type: 'button', onclick: () => this.place.classList.toggle('large') }, words.view.larger),
        h('button', { class: 'word', type: 'button', id: 'backtofloor', onclick: () => this.hide() }, words.view.back)));
    this.place.hidden = false;
  }

  hide() {
    this.shown = '';
    this.place.hidden = true;
    this.place.classList.remove('large');
  }
}

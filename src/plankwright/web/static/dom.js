/** Elements made in one line; text always comes out as text. */

const SVG = 'http://www.w3.org/2000/svg';

/** @typedef {Node | string | number | null | undefined | boolean} Leaf */
/** @typedef {Leaf | Child[]} Child */

/**
 * An HTML element. Names that begin with "on" are listeners, others attributes; false and null
 * leave an attribute out.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, any>} [attributes]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  fit(element, attributes, children);
  const isText = tag === 'textarea' || (tag === 'input' && attributes.type === 'text');
  if (isText && !('value' in attributes)) element.setAttribute('data-draft', '');
  return element;
}

/**
 * An SVG element.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, any>} [attributes]
 * @param {...Child} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function s(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  fit(element, attributes, children);
  return element;
}

/**
 * @param {Element} element
 * @param {Record<string, any>} attributes
 * @param {Child[]} children
 */
function fit(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'value') /** @type {HTMLInputElement} */ (element).value = value;
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  add(element, ...children);
}

/**
 * @param {Element} parent
 * @param {...Child} children
 */
export function add(parent, ...children) {
  for (const child of /** @type {Leaf[]} */ (children.flat(9))) {
    if (child === null || child === undefined || typeof child === 'boolean') continue;
    parent.append(child instanceof Node ? child : document.createTextNode(kept(String(child))));
  }
}

/** Text whose lengths stay on one line: 3 13/16", 8' 9 1/16". @param {string} told */
function kept(told) {
  return told.replace(/(\d['"]?) (?=\d+(?: \d+)?\/\d)/g, '$1\u00a0');
}

/**
 * Put children in the place of what was there, without losing the field a person is typing in:
 * a field keeps focus and caret when a field of the same id comes back, and a draft (a field that
 * shows nothing of the job yet) keeps what was typed into it.
 * @param {Element} parent
 * @param {...Child} children
 */
export function refill(parent, ...children) {
  const active = /** @type {HTMLInputElement | null} */ (document.activeElement);
  const id = active && parent.contains(active) ? active.id : '';
  const caret = id && active && 'selectionStart' in active ? active.selectionStart : null;
  const drafts = draftsIn(parent);
  parent.replaceChildren();
  add(parent, ...children);
  for (const [name, value] of drafts) {
    const field = /** @type {HTMLInputElement | null} */ (document.getElementById(name));
    if (field?.hasAttribute('data-draft') && canHold(field, value)) field.value = value;
  }
  if (!id) return;
  const again = /** @type {HTMLInputElement | null} */ (document.getElementById(id));
  again?.focus({ preventScroll: true });
  if (again && caret !== null && again.type === 'text') again.setSelectionRange(caret, caret);
}

/** Whether a choice still offers a value; other fields hold any. @param {Element} field @param {string} value */
function canHold(field, value) {
  return !(field instanceof HTMLSelectElement) || [...field.options].some((option) => option.value === value);
}

/**
 * What was typed into fields that show nothing of the job, by their ids.
 * @param {Element} parent
 * @returns {[string, string][]}
 */
function draftsIn(parent) {
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (parent.querySelectorAll('[data-draft][id]'));
  return [...fields].map((field) => [field.id, field.value]);
}

/**
 * The element of an id that must be there.
 * @param {string} id
 */
export function byId(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`no element ${id}`);
  return element;
}

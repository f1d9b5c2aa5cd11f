// Which rows a page lists, as its address says: words and times of a form, each a parameter of the address and of the call.
import { asked, go, withParameters } from './address.js';
import { fromField, toField } from './times.js';

/** {@code words} and {@code times} name fields of the form; {@code more} what else of the address belongs to the call. */
export class Filter {
  #form;
  #words;
  #times;
  #more;

  /** Wires the form; whatever is asked begins without {@code more} again. */
  constructor(form, { words, times = [], more = [] }) {
    this.#form = form;
    this.#words = words;
    this.#times = times;
    this.#more = more;
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      go(withParameters(this.#changes()));
    });
    form.addEventListener('reset', (event) => {
      event.preventDefault();
      go(withParameters(Object.fromEntries([...words, ...times, ...more].map((name) => [name, null]))));
    });
  }

  /** The part of the address that the service understands, with these parameters before it. */
  query(first = {}) {
    const kept = new URLSearchParams(first);
    for (const name of [...this.#words, ...this.#times, ...this.#more]) if (asked().get(name)) kept.set(name, asked().get(name));
    return kept.toString();
  }

  /** Whether fewer than all are asked for. */
  get isNarrow() {
    return [...this.#words, ...this.#times].some((name) => asked().get(name));
  }

  #changes() {
    const { elements } = this.#form;
    const words = this.#words.map((name) => [name, elements[name].value.trim()]);
    const times = this.#times.map((name) => [name, fromField(elements[name].value)]);
    return Object.fromEntries([...words, ...times, ...this.#more.map((name) => [name, null])]);
  }

  /** Shows what the address asks for. */
  show() {
    for (const name of this.#words) this.#form.elements[name].value = asked().get(name) ?? '';
    for (const name of this.#times) this.#form.elements[name].value = toField(asked().get(name));
  }

  /** Offers what the roster has; {@code values} are of each field by its name. */
  offer(values) {
    for (const [name, all] of Object.entries(values)) {
      const distinct = [...new Set(all.filter(Boolean))].sort();
      this.#form.elements[name].list.replaceChildren(...distinct.map((value) => new Option('', value)));
    }
  }
}

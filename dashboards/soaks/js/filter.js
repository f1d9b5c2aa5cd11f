// Which soaks are listed: by tracker, lot, rack and time, as the address says.
import { asked, go, withParameters } from '../../shared/address.js';
import { fromField, toField } from '../../shared/times.js';

const WORDS = ['tracker', 'lot', 'rack'];
const TIMES = ['from', 'to'];

/** The part of the address that the service understands. */
export function query(limit) {
  const from = asked();
  const kept = new URLSearchParams({ limit });
  for (const name of [...WORDS, ...TIMES, 'after']) if (from.get(name)) kept.set(name, from.get(name));
  return kept.toString();
}

/** Whether fewer than all are asked for. */
export function isNarrow() {
  return [...WORDS, ...TIMES].some((name) => asked().get(name));
}

/** Wires a form; whatever is asked begins with the newest again. */
export class Filter {
  #form;

  constructor(form) {
    this.#form = form;
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      go(withParameters(this.#changes()));
    });
    form.addEventListener('reset', (event) => {
      event.preventDefault();
      go(withParameters(Object.fromEntries([...WORDS, ...TIMES, 'after'].map((name) => [name, null]))));
    });
  }

  #changes() {
    const { elements } = this.#form;
    const words = WORDS.map((name) => [name, elements[name].value.trim()]);
    const times = TIMES.map((name) => [name, fromField(elements[name].value)]);
    return Object.fromEntries([...words, ...times, ['after', null]]);
  }

  /** Shows what the address asks for. */
  show() {
    for (const name of WORDS) this.#form.elements[name].value = asked().get(name) ?? '';
    for (const name of TIMES) this.#form.elements[name].value = toField(asked().get(name));
  }

  /** Offers what the roster has. */
  offer(entries) {
    this.#suggest('trackers', entries.map((entry) => entry.id));
    this.#suggest('lots', entries.map((entry) => entry.lot));
    this.#suggest('racks', entries.map((entry) => entry.rack));
  }

  #suggest(id, values) {
    const distinct = [...new Set(values.filter(Boolean))].sort();
    document.getElementById(id).replaceChildren(...distinct.map((value) => new Option('', value)));
  }
}

// Which stretch of time is looked at, and how it is changed: by dragging, by buttons, by keys.
import { element, setText } from '../../js/nodes.js';
import { clock, day, sameDay } from '../../js/words.js';

const LEAST_S = 20;
const PRESETS = [['last 10 min', 600], ['last hour', 3600]];
const HINT = 'Drag over a stretch to look closer. Keys: + and − zoom, ← and → move, 0 shows all.';

/** {@code changed({from, to, whole})} hears of each change by a person. */
export class Range {
  #all = [0, 1];
  #shown = [0, 1];
  #changed;
  #words = element('p', 'range-words', HINT);
  #whole = this.#button('whole soak', () => this.#go(...this.#all));

  constructor(place, changed) {
    this.#changed = changed;
    const buttons = PRESETS.map(([name, s]) => this.#button(name, () => this.#go(Math.max(this.#all[0], this.#all[1] - s), this.#all[1])));
    place.append(element('div', 'range', this.#words, element('p', 'range-acts', ...buttons, this.#whole)));
    place.tabIndex = 0;
    place.setAttribute('role', 'group');
    place.setAttribute('aria-label', `Course of the soak. ${HINT}`);
    place.addEventListener('keydown', (event) => this.#key(event));
    this.#tell();
  }

  get shown() {
    return this.#shown;
  }

  get zoomed() {
    return this.#shown[0] > this.#all[0] || this.#shown[1] < this.#all[1];
  }

  /** All of another soak. */
  whole(from, to) {
    this.#all = [from, to];
    this.#shown = [from, to];
    this.#tell();
  }

  /** The soak went on; what is looked at closely stays. */
  grow(from, to) {
    const zoomed = this.zoomed;
    this.#all = [from, to];
    if (!zoomed) this.#shown = [from, to];
  }

  /** A stretch that somebody chose. */
  set(from, to) {
    this.#go(from, to);
  }

  #go(from, to) {
    const middle = (from + to) / 2;
    const half = Math.max(LEAST_S, to - from) / 2;
    this.#shown = [Math.max(this.#all[0], middle - half), Math.min(this.#all[1], middle + half)];
    this.#tell();
    this.#changed({ from: this.#shown[0], to: this.#shown[1], whole: !this.zoomed });
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== event.currentTarget) return;
    const [from, to] = this.#shown;
    const span = to - from;
    const step = { ArrowLeft: -0.2, ArrowRight: 0.2 }[event.key];
    if (event.key === '+' || event.key === '=') this.#go(from + span / 4, to - span / 4);
    else if (event.key === '-') this.#go(from - span / 2, to + span / 2);
    else if (event.key === '0') this.#go(...this.#all);
    else if (step) this.#move(step * span);
    else return;
    event.preventDefault();
  }

  #move(by) {
    const [from, to] = this.#shown;
    const within = by < 0 ? Math.max(by, this.#all[0] - from) : Math.min(by, this.#all[1] - to);
    this.#go(from + within, to + within);
  }

  #tell() {
    this.#whole.hidden = !this.zoomed;
    const [from, to] = this.#shown.map((s) => s * 1000);
    const date = sameDay(from, Date.now()) ? '' : `${day(from)} `;
    setText(this.#words, this.zoomed ? `Shown: ${date}${clock(from)} to ${clock(to)}` : HINT);
  }

  #button(words, act) {
    const node = element('button', '', words);
    node.type = 'button';
    node.addEventListener('click', act);
    return node;
  }
}

// The story of a soak: lanes over one axis of time, from its state to its marks.
import { Figure } from '../../charts/figure.js';
import { asTable } from './columns.js';
import { LANES } from './lanes.js';
import { Lane } from './lane.js';
import { Range } from './range.js';
import { summary } from './summary.js';

/** {@code load(fromS, toS, points)} gives the columns of a stretch; nulls mean the whole soak. */
export class Story {
  #load;
  #figure = new Figure('story', 'This soak', { table: () => asTable(this.#columns), pictures: () => this.#lanes.map((lane) => lane.picture()) });
  #lanes = [];
  #range;
  #columns = null;
  #soak = null;
  #asked = 0;
  #pointed = false;

  constructor(place, load) {
    this.#load = load;
    place.append(this.#figure.node);
    const charts = this.#figure.body;
    charts.classList.add('story');
    this.#lanes = LANES.map((lane) => new Lane(charts, lane, { zoom: (from, to) => this.#range.set(from, to), cursor: (i) => this.#at(i) }));
    this.#range = new Range(charts, (viewed) => this.#zoomed(viewed));
  }

  /** How many px wide its drawings are: more rows can't be seen. */
  get points() {
    return Math.max(200, this.#lanes[0].width);
  }

  /** Shows a soak: {soak, limits, timeline, warmUp, marks, readiness, nowS} and its columns; keeps the stretch that is looked at. */
  async show(soak, columns) {
    const other = this.#soak?.soak.soak !== soak.soak.soak;
    this.#soak = soak;
    if (other) this.#range.whole(...soak.range);
    else this.#range.grow(...soak.range);
    if (columns && !this.#range.zoomed) this.#columns = columns;
    this.#figure.say(summary(soak), `${soak.soak.tracker}-${soak.soak.start}`);
    await this.#draw(other ? 'first' : 'again');
  }

  /** The newest values, without drawing. */
  tell(soak) {
    if (!this.#columns || this.#pointed) return;
    this.#soak = soak;
    this.#figure.say(summary(soak), `${soak.soak.tracker}-${soak.soak.start}`);
    this.#lanes.forEach((lane) => lane.tell(soak, this.#columns, null));
  }

  /** Whether a part of the soak is looked at, so that new rows of the whole are of no use. */
  get zoomed() {
    return this.#range.zoomed;
  }

  async #zoomed({ from, to, whole }) {
    const asked = ++this.#asked;
    await this.#draw('zoom');
    const columns = await this.#load(whole ? null : from, whole ? null : to, this.points);
    if (asked !== this.#asked) return;
    this.#columns = columns;
    await this.#draw('refined');
  }

  /** Tells the browser's own timeline how long it took. */
  async #draw(name) {
    if (!this.#columns) return;
    const start = performance.now();
    const shown = this.#range.shown;
    await Promise.all(this.#lanes.map((lane) => lane.show(this.#soak, this.#columns, shown)));
    performance.clearMeasures(`story ${name}`);
    performance.measure(`story ${name}`, { start, end: performance.now(), detail: { points: this.#columns.t.length } });
  }

  #at(index) {
    if (!this.#columns) return;
    this.#pointed = typeof index === 'number';
    const known = typeof index === 'number';
    this.#lanes.forEach((lane) => lane.tell(this.#soak, this.#columns, known ? index : null));
  }
}

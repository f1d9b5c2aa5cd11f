// What the page knows of its tracker and the soak that it shows, and when it is asked for again.
import { columns } from './columns.js';
import { earlier } from './earlier.js';
import { ask, entry, health, soakPath, trackerPath } from './service.js';

const FIGURES_MS = 60_000;
const ROWS_MS = 5_000;
const AGAIN_MS = 5_000;
const FIGURES = { warmUp: '/warm-up', noise: '/noise', heading: '/heading' };

/** {@code changed()} is called when anything is new. */
export class Data {
  #id;
  #asked;
  #changed;
  #live = null;
  #rowsDue = false;
  readinessKnown = false;
  isEmpty = false;
  roster = null;
  soak = null;
  health = null;
  failed = [];
  limits = null;
  timeline = [];
  warmUp = null;
  curve = null;
  noise = null;
  heading = null;
  columns = null;
  marks = [];
  soaks = [];
  changes = null;
  together = null;
  /** How many rows a chart can show. */
  points = 900;

  /** {@code asked} is a soak that is wanted in place of the newest, or null. */
  constructor(id, asked, changed) {
    this.#id = id;
    this.#asked = asked;
    this.#changed = changed;
  }

  start() {
    this.#begin();
    setInterval(() => { if (this.readiness) this.#figures(); }, FIGURES_MS);
    setInterval(() => { if (this.readiness && this.#rowsDue) this.#rows(); }, ROWS_MS);
  }

  /** The newest verdict where it is about the soak that is shown; else null. */
  get readiness() {
    return this.#live && (!this.soak || this.#live.soak === this.soak.soak) ? this.#live : null;
  }

  /** The data's own now, ms: that of the verdict while it soaks. */
  get nowMs() {
    return this.readiness ? Date.parse(this.readiness.as_of) : Date.now();
  }

  /** When it was last heard in this soak, s since 1970. */
  get lastS() {
    return this.soak ? Date.parse(this.soak.end) / 1000 : null;
  }

  verdict(readiness) {
    const [before, last] = [this.#live?.soak, this.#live?.state];
    this.#live = readiness;
    this.#rowsDue = true;
    const other = (readiness?.soak ?? null) !== (before ?? null);
    if (other && !this.#asked && (this.soak || this.isEmpty)) this.#begin();
    else if (readiness && last && last !== readiness.state) this.#part('timeline', soakPath(readiness.soak, '/timeline'), (body) => { this.timeline = body.timeline; });
    this.#changed();
  }

  /** Asks what is wrong. */
  async unwell() {
    this.health = await health();
    this.#changed();
  }

  async #begin() {
    const roster = this.#part('roster', () => entry('api/trackers', this.#id), (found) => { this.roster = found; });
    const found = this.#part('soaks', `api/soaks?limit=1&tracker=${encodeURIComponent(this.#id)}`, async ({ soaks }) => {
      const own = this.#asked ? await ask(soakPath(this.#asked)) : null;
      this.soak = (own?.tracker === this.#id ? own : null) ?? soaks[0] ?? null;
    });
    await Promise.all([roster, found]);
    if (this.failed.length) return;
    this.isEmpty = !this.soak;
    this.#changed();
    if (this.soak) await this.#all();
  }

  async #all() {
    const { soak } = this.soak;
    await Promise.all([
      this.#part('limits', soakPath(soak, '/limits'), (body) => { this.limits = body.limits; }),
      this.#part('timeline', soakPath(soak, '/timeline'), (body) => { this.timeline = body.timeline; }),
      this.#rows(), this.marksAgain(),
    ]);
    await this.#figures();
    await earlier(this, this.#id);
    this.#changed();
  }

  async #rows() {
    this.#rowsDue = false;
    const columnsNow = await this.stretch(null, null, this.points).catch((e) => this.#fail('samples', e));
    if (columnsNow) this.columns = columnsNow;
    this.#changed();
  }

  /** Rows of a stretch, s since 1970, or of the whole soak. */
  async stretch(fromS, toS, points) {
    const part = fromS === null ? '' : `&from=${new Date(fromS * 1000).toISOString()}&to=${new Date(toS * 1000).toISOString()}`;
    return columns((await ask(soakPath(this.soak.soak, `/bins?points=${Math.round(points)}${part}`))).bins);
  }

  async #figures() {
    const { soak } = this.soak;
    const parts = Object.entries(FIGURES).map(([name, part]) => this.#part(name, soakPath(soak, part), (body) => { this[name] = body; }));
    await Promise.all([...parts, this.#part('bias curve', soakPath(soak, `/bias-curve?points=60${this.#range()}`), (body) => { this.curve = body; })]);
  }

  /** A little more than was seen and than is wanted. */
  #range() {
    const seen = (this.columns?.c.mean ?? []).filter((c) => c !== null);
    if (!this.limits || !seen.length) return '';
    const low = Math.max(-40, Math.min(this.limits.band_low_c, ...seen) - 0.5);
    const high = Math.min(125, Math.max(this.limits.band_high_c, ...seen) + 0.5);
    return `&low_c=${low.toFixed(2)}&high_c=${high.toFixed(2)}`;
  }

  marksAgain() {
    return this.#part('calibrations', trackerPath(this.#id, '/calibrations'), (body) => { this.marks = body.calibrations; });
  }

  /** Asks for one part, at a path or by a function; what fails is told, and everything asked again a little later. */
  async #part(name, path, take) {
    try {
      const body = typeof path === 'string' ? await ask(path) : await path();
      this.failed = this.failed.filter((f) => !f.startsWith(`${name}:`));
      if (body) await take(body);
      this.#changed();
    } catch (e) {
      this.#fail(name, e);
    }
  }

  async #fail(name, e) {
    const first = !this.failed.length;
    this.failed = [...this.failed.filter((f) => !f.startsWith(`${name}:`)), `${name}: ${e.message}`];
    if (first) {
      setTimeout(() => {
        this.failed = [];
        this.#begin();
      }, AGAIN_MS);
    }
    this.health = await health();
    this.#changed();
  }
}

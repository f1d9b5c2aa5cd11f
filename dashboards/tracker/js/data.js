// What the page knows of its tracker and the soak that it shows, and when it is asked for again.
import { Asking } from './asking.js';
import { columns } from './columns.js';
import { earlier } from './earlier.js';
import { ask, entry, soakPath, trackerPath } from './service.js';

const FIGURES_MS = 60_000;
const ROWS_MS = 5_000;

/** {@code changed()} is called when anything is new. */
export class Data {
  #id;
  #asked;
  #changed;
  #asking;
  /** Undefined until the first is heard, null where it has none. */
  #live;
  #rowsDue = false;
  /** Up to which the rows that were asked for are there, ms. */
  #rowsUntilMs = 0;
  isEmpty = false;
  /** A soak that was asked for, but is none of this tracker; else null. */
  unknown = null;
  /** Whether a soak is shown that is not its newest. */
  isEarlier = false;
  roster = null;
  soak = null;
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
  difference = null;
  together = null;
  /** How many rows a chart can show. */
  points = 900;

  /** {@code asked} is a soak that is wanted in place of the newest, or null. */
  constructor(id, asked, changed) {
    this.#id = id;
    this.#asked = asked;
    this.#changed = changed;
    this.#asking = new Asking(changed, () => this.#begin());
  }

  /** The body of /health when last something went wrong, or null. */
  get health() {
    return this.#asking.health;
  }

  /** What could not be read, each with the reason. */
  get failed() {
    return this.#asking.failed;
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
    const first = this.#live === undefined;
    const [before, last] = [this.#live?.soak, this.#live?.state];
    // The first may be about the very rows that are being read; another word of the same second, about late samples.
    this.#rowsDue ||= first ? Date.parse(readiness?.as_of) > this.#rowsUntilMs : JSON.stringify(readiness) !== JSON.stringify(this.#live);
    this.#live = readiness;
    // The first one may come after the soak that it is about: then all of that is being read already.
    const known = first && readiness?.soak === this.soak?.soak;
    const other = !known && (readiness?.soak ?? null) !== (before ?? null);
    if (other && !this.#asked && (this.soak || this.isEmpty)) this.#begin();
    else if (readiness && last && last !== readiness.state) this.#asking.part('timeline', soakPath(readiness.soak, '/timeline'), (body) => { this.timeline = body.timeline; });
    this.#changed();
  }

  /** Asks what is wrong. */
  unwell() {
    return this.#asking.unwell();
  }

  async #begin() {
    const roster = this.#asking.part('roster', () => entry('api/trackers', this.#id), (found) => { this.roster = found; });
    const found = this.#asking.part('soaks', `api/soaks?limit=1&tracker=${encodeURIComponent(this.#id)}`, async ({ soaks }) => {
      const own = this.#asked ? await ask(soakPath(this.#asked)) : null;
      this.soak = (own?.tracker === this.#id ? own : null) ?? soaks[0] ?? null;
      this.unknown = this.#asked && this.soak?.soak !== this.#asked ? this.#asked : null;
      this.isEarlier = this.soak !== null && this.soak.soak !== soaks[0]?.soak;
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
      this.#asking.part('limits', soakPath(soak, '/limits'), (body) => { this.limits = body.limits; }),
      this.#asking.part('timeline', soakPath(soak, '/timeline'), (body) => { this.timeline = body.timeline; }),
      this.#rows(), this.marksAgain(),
    ]);
    await this.#figures();
    await earlier(this, this.#id);
    this.#changed();
  }

  async #rows() {
    this.#rowsDue = false;
    // A verdict of the same is dated by the end of its second.
    this.#rowsUntilMs = Date.parse(this.soak.end) + 1000;
    const columnsNow = await this.stretch(null, null, this.points).catch((e) => this.#asking.fail('samples', e));
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
    const parts = { warmUp: '/warm-up', curve: `/bias-curve?points=60${this.#range()}`, noise: '/noise', heading: '/heading' };
    // One after another: each is worked out from all of the soak, and the judging must not wait for a page.
    for (const [name, part] of Object.entries(parts)) await this.#asking.part(name, soakPath(soak, part), (body) => { this[name] = body; });
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
    return this.#asking.part('calibrations', trackerPath(this.#id, '/calibrations'), (body) => { this.marks = body.calibrations; });
  }
}

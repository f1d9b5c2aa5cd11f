// Where the data come from: a first fetch, then server-sent events, found again by itself when lost.
import { isHeat } from './alarm-row.js';
import { newestMarks } from './marks.js';
import { Newer } from './newer.js';
import { all, change, json, read, Refusal } from './request.js';
import { ofRack } from '../shared/rack.js';

const AGAIN_MS = 3_000;
const QUIET_MS = 8_000;
const WHOLE_MS = 30_000;

/**
 * Follows the service. {@code on.whole(trackers)} gets every tracker, {@code on.some(trackers)} those that an event carried,
 * {@code on.ended(ids)} those whose soak ended, {@code on.roster(entries)} the roster, {@code on.link(live, refusal)} whether
 * the service is heard, {@code on.alarms(list)} the alarms that hold and those of heat that ended unseen,
 * {@code on.marks(list)} the newest calibration mark of every tracker, {@code on.marked(list)} all marks of soaks in which one
 * changed, {@code on.inHand(list)} the trackers that somebody holds, {@code on.health(text)} what else is wrong, or null. Each answer is told as it comes: what needs the database may
 * take seconds, and what an event tells meanwhile is newer.
 */
export class Source {
  #on;
  #heardMs = 0;
  #wholeMs = 0;
  #busy = false;
  #open = false;
  #newer = new Newer();
  #health = null;
  #noRoster = null;

  constructor(on) {
    this.#on = on;
  }

  start() {
    this.#listen();
    setInterval(() => this.#watch(), 1_000);
  }

  /** When anything was last heard of the service, wall clock, ms; 0 for never. */
  get heardMs() {
    return this.#heardMs;
  }

  #listen() {
    const events = new EventSource(ofRack('api/events'));
    events.onopen = () => {
      this.#open = true;
      this.#whole();
    };
    for (const name of ['readiness', 'figures']) events.addEventListener(name, (event) => this.#event(event));
    events.addEventListener('ended', (event) => this.#ended(event));
    events.addEventListener('in_hand', (event) => this.#on.inHand(JSON.parse(event.data).trackers));
    events.addEventListener('alarms', (event) => this.#alarms(event));
    events.addEventListener('calibrations', (event) => this.#marked(event));
    events.onerror = () => {
      this.#open = false;
      this.#whole();
      // A browser tries again after a broken line by itself, but gives up after an error answer.
      if (events.readyState === EventSource.CLOSED) setTimeout(() => this.#listen(), AGAIN_MS);
    };
  }

  #event(event) {
    const { trackers } = JSON.parse(event.data);
    this.#heard();
    this.#newer.some(trackers);
    this.#on.some(trackers);
  }

  #ended(event) {
    const { trackers } = JSON.parse(event.data);
    this.#heard();
    this.#newer.ended(trackers);
    this.#on.ended(trackers);
  }

  #alarms(event) {
    this.#heard();
    this.#newer.alarms();
    this.#on.alarms(JSON.parse(event.data).alarms);
  }

  #marked(event) {
    const { calibrations } = JSON.parse(event.data);
    this.#heard();
    this.#newer.marked(calibrations);
    this.#on.marked(calibrations);
  }

  /** Says that somebody has seen these alarms; null, or a sentence that says why the service did not take it. */
  async acknowledge(ids) {
    for (const id of ids) {
      const { refusal } = await change('POST', `api/alarms/${encodeURIComponent(id)}/acknowledgement`);
      if (refusal) return `Not noted as seen: ${refusal}`;
    }
    return null;
  }

  #heard() {
    this.#heardMs = Date.now();
    this.#on.link(true);
  }

  /** A line that is open and quiet may be dead: ask; without one, ask in its place. Now and then ask for everything anyway. */
  #watch() {
    const nowMs = Date.now();
    const patienceMs = this.#open ? QUIET_MS : AGAIN_MS;
    const quiet = nowMs - this.#heardMs > patienceMs && nowMs - this.#wholeMs > AGAIN_MS;
    if (quiet || nowMs - this.#wholeMs > WHOLE_MS) this.#whole();
  }

  async #whole() {
    if (this.#busy) return;
    this.#busy = true;
    this.#wholeMs = Date.now();
    const newer = new Newer();
    this.#newer = newer;
    const verdicts = this.#askVerdicts(newer);
    await Promise.allSettled([verdicts, this.#askAlarms(newer), this.#askMarks(newer), this.#askHealth(verdicts), this.#askRoster(verdicts)]);
    this.#busy = false;
  }

  /** Resolves to whether the service gave its verdicts. */
  async #askVerdicts(newer) {
    const answer = await settled(all(ofRack('api/readiness')));
    if (!answer.value) {
      this.#on.link(false, answer.reason instanceof Refusal ? answer.reason : null);
      return false;
    }
    this.#heard();
    this.#on.whole(newer.verdicts(answer.value));
    return true;
  }

  async #askAlarms(newer) {
    const { value } = await settled(json('api/alarms'));
    if (!value || newer.hasAlarms) return;
    this.#on.alarms(value.alarms.filter((alarm) => !alarm.until || (isHeat(alarm) && !alarm.acknowledged)));
  }

  async #askMarks(newer) {
    const { value } = await settled(newestMarks());
    if (!value) return;
    this.#on.marks(value);
    newer.marks.forEach((list) => this.#on.marked(list));
  }

  async #askHealth(verdicts) {
    const { value } = await settled(read('health'));
    this.#health = value?.body ?? null;
    await this.#tellTrouble(verdicts);
  }

  async #askRoster(verdicts) {
    const { value, reason } = await settled(all(ofRack('api/trackers')));
    if (value) this.#on.roster(value);
    // Where nothing answers at all, that is what is told.
    this.#noRoster = reason instanceof Refusal ? reason : null;
    await this.#tellTrouble(verdicts);
  }

  /** Where no verdicts are given, that is what is told. */
  async #tellTrouble(verdicts) {
    if (await verdicts) this.#on.health(trouble(this.#health, this.#noRoster));
  }
}

/** {value} of a promise, or the {reason} why it has none. */
async function settled(promise) {
  return (await Promise.allSettled([promise]))[0];
}

/**
 * What is wrong with a service that answers, as a sentence, or null. What is wrong with ports, spool and database stands on the
 * line that opens the ports; names and slots come from the database.
 */
function trouble(health, noRoster) {
  if (health?.type?.endsWith(':not-judging') || health?.type?.endsWith(':starting')) return health.detail;
  if (health?.database && health.database.state !== 'up') return null;
  if (health?.mode === 'reads') return `Read-only: this board shows what another service stores, some seconds later (${health.writer}).`;
  return noRoster ? `Names and slots are not up to date: ${noRoster.message}.` : null;
}

// Where the data come from: a first fetch, then server-sent events, found again by itself when lost.
import { isHeat } from './alarm-row.js';
import { newestMarks } from './marks.js';
import { all, change, json, read, Refusal } from './request.js';

const AGAIN_MS = 3_000;
const QUIET_MS = 8_000;
const WHOLE_MS = 30_000;

/**
 * Follows the service. {@code on.whole(trackers, roster)} gets every tracker, {@code on.some(trackers)} those that an event
 * carried, {@code on.ended(ids)} those whose soak ended, {@code on.link(live, refusal)} whether the service is heard,
 * {@code on.alarms(list)} the alarms that hold and those of heat that ended unseen, {@code on.marks(list)} the newest calibration mark of every tracker,
 * {@code on.marked(list)} all marks of soaks in which one changed, {@code on.health(text)} what else is wrong, or null. The
 * roster is null where it could not be read.
 */
export class Source {
  #on;
  #heardMs = 0;
  #wholeMs = 0;
  #busy = false;
  #open = false;

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
    const events = new EventSource('api/events');
    events.onopen = () => {
      this.#open = true;
      this.#whole();
    };
    for (const name of ['readiness', 'figures']) events.addEventListener(name, (event) => this.#event(event));
    events.addEventListener('ended', (event) => this.#ended(event));
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
    this.#on.some(trackers);
  }

  #ended(event) {
    this.#heard();
    this.#on.ended(JSON.parse(event.data).trackers);
  }

  #alarms(event) {
    this.#heard();
    this.#on.alarms(JSON.parse(event.data).alarms);
  }

  #marked(event) {
    this.#heard();
    this.#on.marked(JSON.parse(event.data).calibrations);
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
    const [verdicts, roster, health, alarms, marks] = await Promise.allSettled(
      [all('api/readiness'), all('api/trackers'), read('health'), json('api/alarms'), newestMarks()]);
    this.#busy = false;
    if (verdicts.status === 'rejected') {
      this.#on.link(false, verdicts.reason instanceof Refusal ? verdicts.reason : null);
      return;
    }
    this.#heard();
    this.#on.whole(verdicts.value, roster.value ?? null);
    if (alarms.value) this.#on.alarms(alarms.value.alarms.filter((alarm) => !alarm.until || (isHeat(alarm) && !alarm.acknowledged)));
    if (marks.value) this.#on.marks(marks.value);
    this.#on.health(trouble(health, roster));
  }
}

/** What is wrong with a service that answers, as a sentence, or null. Names and slots come from its database. */
function trouble(health, roster) {
  const database = health.value?.body.database;
  if (database && database.state !== 'up') {
    return `The service answers, but its database is ${database.state}: ${database.message} New samples are not kept meanwhile.`;
  }
  const body = health.value?.body;
  if (body?.type?.endsWith(':not-judging') || body?.type?.endsWith(':starting')) return body.detail;
  if (body?.trouble) return body.trouble;
  if (body?.mode === 'reads') return `Read-only: this board shows what another service stores, some seconds later (${body.writer}).`;
  return roster.reason ? `Names and slots are not up to date: ${roster.reason.message}.` : null;
}

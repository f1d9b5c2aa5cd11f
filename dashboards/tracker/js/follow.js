// Follows one tracker by the service's events; without them it asks now and then.
import { at, entry } from './service.js';

const AGAIN_MS = 3_000;
const QUIET_MS = 8_000;

/** {@code on.verdict(readiness)} hears each verdict, null when its soak ended; {@code on.marked()}; {@code on.link(live, error)}. */
export class Follow {
  #id;
  #on;
  #events = null;
  #heardMs = 0;
  #askedMs = 0;

  constructor(id, on) {
    this.#id = id;
    this.#on = on;
  }

  start() {
    this.#listen();
    this.#ask();
    setInterval(() => this.#watch(), 1_000);
  }

  /** When anything was last heard of the service, wall clock, ms; 0 for never. */
  get heardMs() {
    return this.#heardMs;
  }

  #listen() {
    const events = new EventSource(at('api/events'));
    this.#events = events;
    for (const name of ['readiness', 'figures']) {
      events.addEventListener(name, (event) => {
        this.#heard();
        const own = JSON.parse(event.data).trackers.find((r) => r.tracker === this.#id);
        if (own) this.#on.verdict(own);
      });
    }
    events.addEventListener('ended', (event) => {
      this.#heard();
      if (JSON.parse(event.data).trackers.includes(this.#id)) this.#on.verdict(null);
    });
    events.addEventListener('calibrations', (event) => {
      this.#heard();
      if (JSON.parse(event.data).calibrations.some((c) => c.tracker === this.#id)) this.#on.marked();
    });
    events.onerror = () => {
      this.#ask();
      // A browser tries again after a broken line by itself, but gives up after an error answer.
      if (events.readyState === EventSource.CLOSED) setTimeout(() => this.#listen(), AGAIN_MS);
    };
  }

  #heard() {
    this.#heardMs = Date.now();
    this.#on.link(true);
  }

  #watch() {
    const nowMs = Date.now();
    const patienceMs = this.#events?.readyState === EventSource.OPEN ? QUIET_MS : AGAIN_MS;
    if (nowMs - this.#heardMs > patienceMs && nowMs - this.#askedMs > AGAIN_MS) this.#ask();
  }

  async #ask() {
    this.#askedMs = Date.now();
    try {
      const verdict = await entry('api/readiness', this.#id);
      this.#heard();
      this.#on.verdict(verdict);
    } catch (e) {
      this.#on.link(false, e);
    }
  }
}

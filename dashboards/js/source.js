// Where the data come from: a first fetch, then server-sent events, found again by itself when lost.

const AGAIN_MS = 3_000;
const QUIET_MS = 8_000;
const WHOLE_MS = 30_000;

/**
 * Follows the service. {@code on.whole(trackers, roster)} gets every tracker, {@code on.some(trackers)} those that an event
 * carried, {@code on.ended(ids)} whose soak ended, {@code on.link(live, problem)} whether the service is heard; {@code on.health(text)} null while all is well.
 */
export class Source {
  #on;
  #heardMs = 0;
  #wholeMs = 0;
  #busy = false;

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
    events.onopen = () => this.#whole();
    for (const name of ['readiness', 'figures']) events.addEventListener(name, (event) => this.#event(event));
    events.addEventListener('ended', (event) => this.#ended(event));
    events.onerror = () => {
      this.#on.link(false);
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

  #heard() {
    this.#heardMs = Date.now();
    this.#on.link(true);
  }

  /** A line that is open and quiet may be dead: ask. And now and then ask for everything, so that those taken off go. */
  #watch() {
    const nowMs = Date.now();
    const quiet = nowMs - this.#heardMs > QUIET_MS && nowMs - this.#wholeMs > AGAIN_MS;
    if (quiet || nowMs - this.#wholeMs > WHOLE_MS) this.#whole();
  }

  async #whole() {
    if (this.#busy) return;
    this.#busy = true;
    this.#wholeMs = Date.now();
    try {
      const [trackers, roster] = await Promise.all([all('api/readiness'), all('api/trackers')]);
      this.#heard();
      this.#on.whole(trackers, roster);
      this.#on.health(await health());
    } catch (failure) {
      this.#on.link(false, failure.message);
    } finally {
      this.#busy = false;
    }
  }
}

/** Every entry of a list, page by page. */
async function all(path) {
  const entries = [];
  for (let url = new URL(path, document.baseURI); url;) {
    const { trackers, next } = await json(url);
    entries.push(...trackers);
    url = next ? new URL(next, url) : null;
  }
  return entries;
}

async function json(url) {
  const answer = await fetch(url, { headers: { Accept: 'application/json' }, cache: 'no-store', signal: AbortSignal.timeout(5_000) });
  if (!answer.ok) throw new Error(`${url.pathname} answered ${answer.status}`);
  return answer.json();
}

/** What is wrong with the service itself, as a sentence, or null. */
async function health() {
  const answer = await fetch('health', { headers: { Accept: 'application/json' }, cache: 'no-store' });
  const told = await answer.json();
  const database = told.database?.state ?? told.database ?? told.status;
  if (answer.ok && ['up', 'ok'].includes(database)) return null;
  const detail = told.database?.reason ?? told.detail ?? `its state is ${JSON.stringify(database)}`;
  return `The service answers, but its database does not: ${detail}. New samples may not be kept.`;
}

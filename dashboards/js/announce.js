// Tells changes of state, questions and alarms to people who hear the page: one sentence at a time, not more often than they can follow.
import { list } from './words.js';

const EVERY_MS = 5_000;
// A tracker that is left alone is not told as ready: that would call somebody.
const LEFT_ALONE = { keep: 'calibrated and checked', check: 'being checked' };

export class Announcer {
  #place;
  #states = null;
  #changed = new Map();
  #asked = new Map();
  #questions = [];
  #alarms = [];
  #timer = null;

  constructor(place) {
    this.#place = place;
  }

  /** Notes who changed, and what is newly asked, since the last call; the first call only learns. A hot tracker is told at once. */
  hear(views) {
    const fresh = new Map(views.map((v) => [v.id, word(v)]));
    const changed = this.#states ? views.filter((v) => this.#states.get(v.id) !== word(v)) : [];
    this.#states = fresh;
    for (const view of changed) this.#changed.set(view.id, view);
    this.#ask(views.filter((v) => v.mark?.status === 'question'));
    if (changed.some((v) => v.state === 'hot')) this.#speak();
    else if (this.#changed.size + this.#questions.length > 0) this.#soon();
  }

  /** Tells of alarms by their titles; heat is no part of them, it tells itself. */
  alarms(titles) {
    this.#alarms.push(...titles);
    this.#soon();
  }

  #soon() {
    this.#timer ??= setTimeout(() => this.#speak(), EVERY_MS);
  }

  /** Tells one sentence now, apart from the states. */
  say(text) {
    this.#place.textContent = text;
  }

  #ask(views) {
    const fresh = views.filter((v) => this.#asked.get(v.id) !== v.mark.at);
    this.#questions.push(...fresh.map((v) => v.name));
    fresh.forEach((v) => this.#asked.set(v.id, v.mark.at));
  }

  #speak() {
    clearTimeout(this.#timer);
    this.#timer = null;
    const states = this.#changed.size ? [sentence([...this.#changed.values()])] : [];
    const questions = this.#questions.length ? [`Was ${list(this.#questions, 4)} calibrated? The tile asks.`] : [];
    const alarms = this.#alarms.length ? [`${this.#alarms.length === 1 ? 'Alarm' : 'Alarms'}: ${list(this.#alarms, 4)}.`] : [];
    this.#place.textContent = [...states, ...alarms, ...questions].join(' ');
    this.#changed.clear();
    this.#questions = [];
    this.#alarms = [];
  }
}

function word({ step, state }) {
  return LEFT_ALONE[step] ?? state;
}

/** "Heron 1 and Heron 2 ready, Wren 4 disturbed." Hot first, then ready. */
function sentence(views) {
  const states = [...new Set(['hot', 'ready', ...views.map(word)])];
  const parts = states
    .map((state) => [views.filter((v) => word(v) === state).map((v) => v.name), state])
    .filter(([names]) => names.length)
    .map(([names, state]) => `${list(names, 4)} ${state}`);
  return `${parts.join(', ')}.`;
}

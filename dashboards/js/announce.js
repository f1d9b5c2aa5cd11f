// Tells changes of state to people who hear the page: one sentence at a time, not more often than they can follow.
import { list } from './words.js';

const EVERY_MS = 5_000;

export class Announcer {
  #place;
  #states = null;
  #changed = new Map();
  #timer = null;

  constructor(place) {
    this.#place = place;
  }

  /** Notes who changed since the last call; the first call only learns. A hot tracker is told at once. */
  hear(views) {
    const fresh = new Map(views.map((v) => [v.id, v.state]));
    const changed = this.#states ? views.filter((v) => this.#states.get(v.id) !== v.state) : [];
    this.#states = fresh;
    for (const view of changed) this.#changed.set(view.id, view);
    if (changed.some((v) => v.state === 'hot')) this.#speak();
    else if (this.#changed.size && !this.#timer) this.#timer = setTimeout(() => this.#speak(), EVERY_MS);
  }

  /** Tells one sentence now, apart from the states. */
  say(text) {
    this.#place.textContent = text;
  }

  #speak() {
    clearTimeout(this.#timer);
    this.#timer = null;
    this.#place.textContent = sentence([...this.#changed.values()]);
    this.#changed.clear();
  }
}

/** "Heron 1 and Heron 2 ready, Wren 4 disturbed." Hot first, then ready. */
function sentence(views) {
  const states = [...new Set(['hot', 'ready', ...views.map((v) => v.state)])];
  const parts = states
    .map((state) => [views.filter((v) => v.state === state).map((v) => v.name), state])
    .filter(([names]) => names.length)
    .map(([names, state]) => `${list(names, 4)} ${state}`);
  return `${parts.join(', ')}.`;
}

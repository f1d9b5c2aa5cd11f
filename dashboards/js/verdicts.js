// The newest verdict of every tracker, and since when none newer has come.

export class Verdicts {
  #byTracker = new Map();
  #newSince = new Map();

  /** These and no others. When each came is remembered: the same verdict told once more is no newer for that. */
  whole(readinesses) {
    this.#byTracker = new Map();
    this.some(readinesses);
  }

  some(readinesses) {
    for (const readiness of readinesses) {
      const before = this.#newSince.get(readiness.tracker);
      if (readiness.as_of !== before?.asOf) {
        this.#newSince.set(readiness.tracker, { asOf: readiness.as_of, cameMs: before ? performance.now() : -Infinity });
      }
      this.#byTracker.set(readiness.tracker, readiness);
    }
  }

  ended(ids) {
    for (const id of ids) {
      this.#byTracker.delete(id);
      this.#newSince.delete(id);
    }
  }

  get(id) {
    return this.#byTracker.get(id);
  }

  get all() {
    return [...this.#byTracker.values()];
  }

  /** For how long no newer verdict of it has come, seconds of the wall clock; without end for one that never changed here. */
  unchangedS(id) {
    return (performance.now() - this.#newSince.get(id).cameMs) / 1000;
  }
}

// What events told while answers were awaited. It may be newer than an answer, which must not undo it.

/** Made when something is asked for; each kind of answer is then laid under what was told since. */
export class Newer {
  #verdicts = new Map();
  #marks = [];
  #alarms = false;

  some(trackers) {
    for (const readiness of trackers) this.#verdicts.set(readiness.tracker, readiness);
  }

  ended(ids) {
    for (const id of ids) this.#verdicts.set(id, null);
  }

  marked(list) {
    this.#marks.push(list);
  }

  alarms() {
    this.#alarms = true;
  }

  /** Every verdict of an answer, or the one that was told since; none of a tracker whose soak ended since. */
  verdicts(answered) {
    const all = new Map(answered.map((readiness) => [readiness.tracker, readiness]));
    this.#verdicts.forEach((readiness, id) => all.set(id, readiness));
    return [...all.values()].filter(Boolean);
  }

  /** The lists of marks that were told since: an event carries those of some soaks only. */
  get marks() {
    return this.#marks;
  }

  /** Whether alarms were told since: an event carries all of them, so the answer is of no use. */
  get hasAlarms() {
    return this.#alarms;
  }
}

// Calibration marks: the newest of every tracker, and what people say of them.
import { change, json } from './request.js';

const NEWEST = 'api/calibrations?undone=true';

/** The newest mark or question of every tracker, or the newest undone one of those that have no other. */
export async function newestMarks() {
  return (await json(NEWEST)).calibrations;
}

/** Keeps them; {@code changed(list)} hears of each that is new or says something new. */
export class Marks {
  #newest = new Map();
  #changed;

  constructor(changed) {
    this.#changed = changed;
  }

  /** A tracker's newest mark or question; an undone one only where there is no other; or undefined. */
  of(tracker) {
    return this.#newest.get(tracker);
  }

  /** These, and no others. */
  whole(list) {
    this.#newest = new Map(list.map((mark) => [mark.tracker, mark]));
    this.#changed(list);
  }

  /** All marks of some soaks, undone ones too. Those of an older soak say nothing of the newest mark. */
  some(list) {
    for (const tracker of new Set(list.map((mark) => mark.tracker))) this.#one(tracker, list.filter((m) => m.tracker === tracker));
    this.#changed(list);
  }

  #one(tracker, marks) {
    const known = this.#newest.get(tracker);
    const newest = [...marks].sort(byWeight).at(-1);
    const same = known && marks.some((m) => m.soak === known.soak);
    if (!known || same || byWeight(known, newest) < 0) this.#newest.set(tracker, newest);
  }

  /** Says that it was calibrated then, or now where {@code at} is left out; null, or a sentence that says what went wrong. */
  tell(tracker, at) {
    return this.#say('POST', path(tracker), at && { at });
  }

  /** Says that it was no calibration; null, or a sentence that says what went wrong. */
  undo(tracker, at) {
    return this.#say('DELETE', `${path(tracker)}/${encodeURIComponent(at)}`);
  }

  /** Every mark of a tracker, the newest first. */
  async all(tracker) {
    return (await json(path(tracker))).calibrations;
  }

  async #say(method, where, content) {
    const { refusal } = await change(method, where, content);
    if (refusal) return `Not noted: ${refusal}`;
    try {
      this.whole(await newestMarks());
      return null;
    } catch (e) {
      return `Noted, but what it changed is not shown yet: ${e.message}.`;
    }
  }
}

function path(tracker) {
  return `api/trackers/${encodeURIComponent(tracker)}/calibrations`;
}

/** What was undone weighs less than any other. */
function byWeight(a, b) {
  return Number(b.status === 'undone') - Number(a.status === 'undone') || Date.parse(a.at) - Date.parse(b.at);
}

// What the page needs of a tracker: the verdict, the roster's entry and the newest calibration put together, times as milliseconds.

// A verdict this much older than the newest one on the board is told as old, if nothing newer has come for as long. The data's
// clock alone won't do: a demo's may run thirty times as fast, and then every verdict is that old between two of its events.
const OLD_AFTER_S = 10;

/** The data's own now: the newest moment that any verdict reaches, or null. A demo may run faster than the wall clock. */
export function dataNow(readinesses) {
  const times = readinesses.map((r) => Date.parse(r.as_of)).filter(Number.isFinite);
  return times.length ? Math.max(...times) : null;
}

/** One view a tracker, sorted by rack and slot. Roster is a map from id to entry, marks knows the newest calibration of each. */
export function views(verdicts, roster, marks, nowMs) {
  return verdicts.all
    .map((r) => view(r, roster.get(r.tracker), marks.of(r.tracker), nowMs, verdicts.unchangedS(r.tracker))).sort(byPlace);
}

function view(readiness, entry, mark, nowMs, unchangedS) {
  const behindS = (nowMs - Date.parse(readiness.as_of)) / 1000;
  return {
    id: readiness.tracker,
    name: entry?.name || readiness.name || readiness.tracker,
    rack: entry?.rack || '',
    slot: entry?.slot || '',
    lot: entry?.lot || '',
    power: entry?.power || 'unknown',
    state: readiness.state,
    step: readiness.next_step,
    order: readiness.order,
    readiness,
    mark: mark ?? null,
    nowMs,
    sinceMs: Date.parse(readiness.since),
    behindS,
    old: readiness.state === 'silent' || Math.min(behindS, unchangedS) > OLD_AFTER_S,
    before: readiness.before ?? null,
    beforeUntilMs: readiness.before_until ? Date.parse(readiness.before_until) : null,
    readyAt: moments(readiness.ready_at),
  };
}

function moments(readyAt) {
  if (!readyAt) return null;
  return {
    expectedMs: Date.parse(readyAt.expected),
    earliestMs: Date.parse(readyAt.earliest),
    latestMs: Date.parse(readyAt.latest),
    priorUsed: readyAt.prior_used === true,
  };
}

const WORDS = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** Whether it calls for a hand. A ready that nobody confirmed lately sends nobody; heat always does. */
export function calls({ order, state, old }, lost) {
  return state === 'hot' || (typeof order === 'number' && !(old || lost));
}

/** Rack, slot, name, id, each with numbers in their own order; trackers without a place come last. */
function byPlace(a, b) {
  return Number(!a.rack) - Number(!b.rack) || WORDS.compare(a.rack, b.rack)
    || Number(!a.slot) - Number(!b.slot) || WORDS.compare(a.slot, b.slot)
    || WORDS.compare(a.name, b.name) || WORDS.compare(a.id, b.id);
}

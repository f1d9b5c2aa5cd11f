// What a ready tracker's newest calibration leaves to do: it counts for as long as the tracker lies as it was checked.
import { named } from './condition.js';

const MINUTE_MS = 60_000;
// The check is there a minute and a half after the tracker was laid down; one that is not there by then does not come.
const CHECK_WITHIN_MS = 5 * MINUTE_MS;

/**
 * The next step at a ready tracker; null in any other state. {@code calibrate} it; {@code answer} whether it was; leave it
 * alone for the {@code check}; {@code keep} it, nothing is to be done; {@code decide}, for the check can't tell.
 */
export function step(view) {
  const { state, mark } = view;
  if (state !== 'ready') return null;
  if (!mark || mark.status === 'undone') return 'calibrate';
  if (waitsForCheck(view)) return 'check';
  if (!lies(view)) return 'calibrate';
  if (mark.status === 'question') return 'answer';
  return { keep: 'keep', unknown: 'decide' }[mark.check?.verdict] ?? 'calibrate';
}

/** Whether the check counts no more because it was moved, in the soak that it was calibrated in. */
export function movedSince(view) {
  const { mark, readiness } = view;
  return Boolean(mark?.check) && mark.soak === readiness.soak && !lies(view);
}

function waitsForCheck({ mark, readiness, nowMs }) {
  const waits = mark.status === 'mark' && !mark.check && /^not known yet/.test(mark.check_reason);
  return waits && nowMs - Math.max(Date.parse(mark.at), stillSinceMs(readiness)) < CHECK_WITHIN_MS;
}

/**
 * Whether it has not been moved since the still minute after its calibration. The verdict takes half a minute to learn how
 * it lies now, and counts that as motion: so the end of that minute is asked, not its begin. Another soak began later, too.
 */
function lies({ mark, readiness }) {
  const minuteEndsMs = mark.check ? Date.parse(mark.check.to) : Date.parse(mark.laid) + MINUTE_MS;
  return stillSinceMs(readiness) <= minuteEndsMs;
}

/** Since when it has lain still, or the soak's begin. A verdict is only ready where that is known. */
function stillSinceMs(readiness) {
  return Date.parse(readiness.as_of) - 1_000 * named(readiness, 'still').value;
}

// Places as they stand: racks, their rows and slots, and in the list who is next.
import { byOrder } from './sentence.js';

// Where a tracker stands in the list that does not call: what asks for somebody first, then by when it is expected.
const STEPS = ['answer', 'decide', 'check'];
const AFTER_TIMES = ['disturbed', 'undecided', 'starting', 'soaking', 'warming', 'cooling', 'stalled', 'silent', 'ready'];

/** Who is next first. */
export function byNext(views) {
  return [...views].sort((a, b) => byOrder(a, b) || rank(a) - rank(b) || expected(a) - expected(b));
}

function rank(view) {
  const step = STEPS.indexOf(view.step);
  if (step >= 0) return step;
  return view.readyAt && view.state !== 'silent' ? STEPS.length : STEPS.length + 1 + AFTER_TIMES.indexOf(view.state);
}

function expected({ readyAt }) {
  return readyAt?.expectedMs ?? 0;
}

/** The row of a slot: what stands before its number, so that "A1" and "A2" share one. */
export function row(slot) {
  let end = slot.length;
  while (end > 0 && slot[end - 1] >= '0' && slot[end - 1] <= '9') end--;
  return slot.slice(0, end);
}

/** Groups in the order of their first member: a map from key to list. */
export function grouped(list, keyOf) {
  const groups = new Map();
  for (const each of list) groups.set(keyOf(each), [...(groups.get(keyOf(each)) ?? []), each]);
  return groups;
}

// The board's answer: who is next in the largest words, the rest in one sentence, what else to do in another, and the page's title.
import { clock, count, list } from './words.js';

// Expected moments closer together than this are waited for together.
const TOGETHER_MS = 5 * 60_000;
const TOGETHER_MOST_MS = 10 * 60_000;
// Nobody waits longer for others while some are ready.
const WORTH_WAITING_MS = 15 * 60_000;
const MINUTE_MS = 60_000;

/**
 * Sorts the views into those who are hot, ready to be calibrated (both in the order to be taken), calibrated and being checked,
 * asked about, calibrated but in doubt, calibrated and kept, coming together, coming later, stuck, silent, out of date, and those
 * of whom no time can be told.
 */
export function sorted(views) {
  const old = views.filter((v) => v.old && v.state !== 'silent' && v.state !== 'hot');
  const is = (state) => views.filter((v) => v.state === state && !old.includes(v));
  const ready = is('ready');
  const next = (step) => ready.filter((v) => v.step === step);
  // Its soak is about to end: nobody need look for it.
  const off = is('silent').filter((v) => v.step === 'keep');
  const settledStates = ['hot', 'ready', 'stalled', 'silent'];
  const open = views.filter((v) => !settledStates.includes(v.state) && !old.includes(v));
  const coming = open.filter((v) => v.readyAt).sort((a, b) => a.readyAt.expectedMs - b.readyAt.expectedMs);
  const soon = coming.slice(0, firstGap(coming));
  return {
    hot: is('hot').sort(byOrder), ready: next('calibrate').sort(byOrder), checking: next('check'), asked: next('answer'),
    doubtful: next('decide'), kept: [...next('keep'), ...off], stuck: is('stalled'), silent: is('silent').filter((v) => !off.includes(v)), old,
    soon, later: coming.slice(soon.length), unknown: open.filter((v) => !v.readyAt),
  };
}

/** Who calls first; who doesn't call comes last. */
export function byOrder(a, b) {
  return (a.order ?? Infinity) - (b.order ?? Infinity) || 0;
}

function firstGap(coming) {
  const at = (i) => coming[i].readyAt.expectedMs;
  for (let i = 1; i < coming.length; i++) if (at(i) - at(i - 1) > TOGETHER_MS || at(i) - at(0) > TOGETHER_MOST_MS) return i;
  return coming.length;
}

/**
 * The largest words, {say, view, calls, tail}: whom they name, whether that one calls for a hand, and what stands around the name;
 * {@code view} is null where nobody is to be named. Hot ones that are told apart, larger still, are left out.
 */
export function answer(groups, { heatIsTold, lost }) {
  const hot = heatIsTold ? [] : groups.hot;
  const [next] = lost ? hot : [...hot, ...groups.ready];
  if (next) return { say: next.state === 'hot' ? 'Hot:' : heatIsTold ? 'Then:' : 'Next:', view: next, calls: true, tail: '' };
  const [first] = groups.soon;
  if (lost || !first) return { say: standing(groups, lost), view: null, calls: false, tail: '' };
  return { say: 'None ready,', view: first, calls: false, tail: ` at ${clock(first.readyAt.expectedMs)}` };
}

/** Where nobody is to be named. */
function standing({ ready, kept, checking, asked, doubtful }, lost) {
  if (lost && ready.length) return `${ready.length} ready, when last heard`;
  const parts = kept.length ? [`${kept.length} calibrated`] : ['None ready'];
  if (checking.length) parts.push(`${checking.length} being checked`);
  if (asked.length + doubtful.length) parts.push(`${asked.length + doubtful.length} to decide`);
  return parts.join(', ');
}

/** The rest in one sentence: "5 more ready, 4 within 6 min: wait until 19:41 for ten". Empty where there is no rest. */
export function rest({ ready, soon, later }, nowMs) {
  const more = ready.length - 1;
  const parts = more > 0 ? [`${more} more ready`] : [];
  const lastMs = soon.length ? latest(soon) - nowMs : 0;
  if (!ready.length) parts.push(...expected(soon.slice(1), nowMs, ' more'), ...expected(later, nowMs, soon.length > 1 ? '' : ' more'));
  else if (lastMs > WORTH_WAITING_MS) parts.push(...expected(soon, nowMs, more > 0 ? '' : ' more'));
  else if (soon.length) parts.push(`${soon.length}${more > 0 ? '' : ' more'} within ${Math.max(1, Math.ceil(lastMs / MINUTE_MS))}\u00a0min`);
  else parts.push(...expected(later, nowMs, more > 0 ? '' : ' more'));
  const wait = ready.length && soon.length && lastMs <= WORTH_WAITING_MS;
  return `${parts.join(', ')}${wait ? `: wait until\u00a0${by(soon)} for ${count(ready.length + soon.length)}` : ''}`;
}

function expected(views, nowMs, more) {
  return views.length ? [`${views.length}${more} by ${by(views)}`] : [];
}

/** What else is to be done, and what will come of the others, in small words. Old verdicts send nobody. */
export function todo(groups, lost) {
  if (lost) return 'What is shown is old: wait for the connection before you act on it.';
  const { ready, kept, stuck, silent, old, soon, later, unknown } = groups;
  const look = [...silent, ...old, ...stuck];
  const waits = soon.length + later.length + unknown.length;
  const parts = afterwards(groups);
  if (ready.length && soon.length) parts.push('Opening a cover that they share sets those that still warm back.');
  if (!ready.length && waits) parts.push(waits === 1 ? 'Leave it as it lies.' : 'Leave them as they lie.');
  if (kept.length && !ready.length && !waits && !parts.length && !look.length) parts.push('Nothing is left to calibrate.');
  else if (kept.length) parts.push(`${kept.length} calibrated.`);
  if (unknown.length) parts.push(`${unknown.length} without a time.`);
  if (look.length) parts.push(`See to ${list(look.map((v) => `${v.name} (${old.includes(v) ? 'out of date' : v.state})`))}.`);
  return parts.join(' ');
}

/** What calibrations leave to do. */
function afterwards({ checking, asked, doubtful }) {
  return [
    checking.length ? `Leave ${names(checking)} alone until the check is done.` : '',
    asked.length ? `Was ${names(asked)} calibrated? The tile asks.` : '',
    doubtful.length ? `The check can’t tell of ${names(doubtful)}: keep it or do it again.` : '',
  ].filter(Boolean);
}

function names(views) {
  return list(views.map((v) => v.name));
}

function latest(views) {
  return Math.max(...views.map((v) => v.readyAt.expectedMs));
}

function by(views) {
  return clock(latest(views));
}

/** The title of the page, with the count that matters first. */
export function title(groups, total, lost, news = 0) {
  const { hot, ready } = groups;
  const counts = `${hot.length ? `${hot.length} hot, ` : ''}${ready.length} of ${total} ready`;
  return `${lost ? 'connection lost · ' : ''}${news ? `(${news}) ` : ''}${total ? counts : 'no tracker yet'} · Soakbench`;
}

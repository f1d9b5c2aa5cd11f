// When a tracker will be ready, or since when it is what it is: a large moment, and the line below it.
import { age, clock, clockWithSeconds, day, pretty, sameDay } from './words.js';
import { time } from './nodes.js';

// Where nothing is to be calibrated at a ready tracker, its word tells more than since when it is ready.
const TOLD_BY_WORD = { keep: 'kept', check: '', answer: '', decide: '' };

/** The large figure beside the state's word, as parts; empty where there is no moment to tell. */
export function large({ state, step, sinceMs, nowMs, readyAt, readiness }) {
  if (state === 'hot') return hotWhen(readiness?.heat);
  if (state === 'ready' && step in TOLD_BY_WORD) return [TOLD_BY_WORD[step]].filter(Boolean);
  if (state === 'ready') return [time(sinceMs, `for ${age((nowMs - sinceMs) / 1000)}`)];
  // Where the whole rack is silent, the data's clock stands still and an age would be a lie.
  if (state === 'silent') return nowMs > sinceMs ? [age((nowMs - sinceMs) / 1000)] : [];
  return readyAt ? [time(readyAt.expectedMs, clock(readyAt.expectedMs))] : [];
}

/** A tracker that only heads for hot says when it will be; one that is has no time to lose. */
function hotWhen(heat) {
  if (heat?.kind !== 'heading_hot') return ['now'];
  const ms = Date.parse(heat.passes_at);
  return Number.isNaN(ms) ? ['soon'] : ['at ', time(ms, clock(ms))];
}

/** The line below: interval, verdict interrupted, age, or the reason why there is no time. */
export function small(view) {
  const { state, readyAt } = view;
  if (state === 'silent') return silence(view);
  const parts = [];
  if (state === 'ready') return view.old ? [`this is ${age(view.behindS)} old`] : [];
  if (readyAt) parts.push(...interval(view));
  else if (state !== 'hot') parts.push(why(view));
  if (view.before) parts.unshift(`${interrupted(view)}${parts.length ? '; ' : ''}`);
  if (view.old) parts.push(`; this is ${age(view.behindS)} old`);
  return parts;
}

/** A range of time as parts; to the second where both ends fall in the same minute, and one moment where they are one. */
export function range(fromMs, toMs, nowMs) {
  if (clockWithSeconds(fromMs) === clockWithSeconds(toMs)) return ['about ', told(toMs, nowMs, clockWithSeconds)];
  const exact = clock(fromMs) === clock(toMs) ? clockWithSeconds : clock;
  return [told(fromMs, nowMs, exact), ' to ', told(toMs, sameDay(fromMs, toMs) ? toMs : nowMs, exact)];
}

/** A moment as a time element; with its day where that is not the day of {@code nowMs}. */
export function told(ms, nowMs, print = clock) {
  return time(ms, sameDay(ms, nowMs) ? print(ms) : `${day(ms)} ${print(ms)}`);
}

function interrupted({ before, beforeUntilMs, nowMs }) {
  return beforeUntilMs ? `${before} until lifted ${age((nowMs - beforeUntilMs) / 1000)} ago` : `${before} until lifted`;
}

function silence({ before, sinceMs, nowMs }) {
  return [before ? `${before} until it fell silent at ` : 'silent since ', told(sinceMs, nowMs, clockWithSeconds)];
}

function interval({ readyAt, nowMs }) {
  const { earliestMs, latestMs, priorUsed } = readyAt;
  const parts = ['ready ', ...range(earliestMs, latestMs, nowMs)];
  if (priorUsed) parts.push(', helped by earlier soaks');
  return parts;
}

function why({ readiness: { ready_at_reason: reason } }) {
  return reason ? `ready time: ${pretty(reason)}` : 'ready time not known yet';
}

// When a tracker will be ready, or since when it is what it is: a large moment, and the line below it.
import { age, clock, clockWithSeconds, day, pretty, sameDay } from './words.js';
import { time } from './nodes.js';

/** The large figure beside the state's word, as parts; empty where there is no moment to tell. */
export function large(view) {
  if (view.state === 'hot') return ['now'];
  if (view.state === 'ready') return [`for ${age((view.nowMs - view.sinceMs) / 1000)}`];
  if (view.state === 'silent') return [age(view.silentS)];
  return view.readyAt ? [time(view.readyAt.expectedMs, clock(view.readyAt.expectedMs))] : [];
}

/** The line below: interval, verdict interrupted, age, or the reason why there is no time. */
export function small(view) {
  const parts = interrupted(view);
  if (parts.length && view.state !== 'silent') parts.push('; ');
  if (view.state === 'ready') parts.push('since ', told(view.sinceMs, view.nowMs));
  else if (view.state === 'silent') parts.push(...(parts.length ? [] : [`no sample for ${age(view.silentS)}`]));
  else if (view.readyAt) parts.push(...interval(view));
  else if (view.state !== 'hot') parts.push(...why(view));
  if (view.old && view.state !== 'silent') parts.push(`; this is ${age(view.silentS)} old`);
  return parts;
}

/** A range of time as parts; to the second where both ends fall in the same minute. */
export function range(fromMs, toMs, nowMs) {
  const exact = clock(fromMs) === clock(toMs) ? clockWithSeconds : clock;
  return [told(fromMs, nowMs, exact), ' to ', told(toMs, sameDay(fromMs, toMs) ? toMs : nowMs, exact)];
}

function told(ms, nowMs, print = clock) {
  return time(ms, sameDay(ms, nowMs) ? print(ms) : `${day(ms)} ${print(ms)}`);
}

function interrupted({ state, before, beforeUntilMs, nowMs }) {
  if (!before) return [];
  const cause = state === 'silent' ? 'it fell silent' : 'lifted';
  return [beforeUntilMs ? `${before} until ${cause} ${age((nowMs - beforeUntilMs) / 1000)} ago` : `${before} until ${cause}`];
}

function interval({ readyAt, nowMs }) {
  const { earliestMs, latestMs, provisional, priorUsed } = readyAt;
  const parts = ['ready ', ...range(earliestMs, latestMs, nowMs)];
  if (provisional) parts.push(', provisional');
  if (priorUsed) parts.push(', helped by earlier soaks');
  return parts;
}

function why({ state, readiness }) {
  const reason = pretty(readiness.ready_at_reason).replace(/\.$/, '');
  const lead = state === 'stalled' ? 'no time as it lies' : 'ready time not known yet';
  return [reason ? `${lead}, because ${reason}` : lead];
}

// The board's answer in one sentence, what to do in another, and the page's title.
import { element } from './nodes.js';
import { tileId } from './tile.js';
import { clock, list } from './words.js';

// Expected moments closer together than this are waited for together.
const TOGETHER_MS = 5 * 60_000;

/**
 * Sorts the views into those who are hot, ready to be calibrated, calibrated and being checked, asked about, calibrated but
 * in doubt, calibrated and kept, coming together, coming later, stuck, silent, out of date, and those of whom no time can be told.
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
    hot: is('hot'), ready: next('calibrate'), checking: next('check'), asked: next('answer'), doubtful: next('decide'), kept: [...next('keep'), ...off],
    stuck: is('stalled'), silent: is('silent').filter((v) => !off.includes(v)), old,
    soon, later: coming.slice(soon.length), unknown: open.filter((v) => !v.readyAt),
  };
}

function firstGap(coming) {
  const at = (i) => coming[i].readyAt.expectedMs;
  for (let i = 1; i < coming.length; i++) if (at(i) - at(i - 1) > TOGETHER_MS) return i;
  return coming.length;
}

/** For example "2 ready, 1 calibrated, 4 more by 19:41, 1 will not get there". */
export function headline(groups) {
  const { hot, ready, checking, asked, doubtful, kept, soon, later, stuck, silent, old, unknown } = groups;
  const more = ready.length ? ' more' : '';
  const parts = [];
  if (ready.length || !kept.length) parts.push(ready.length ? `${ready.length} ready` : 'None ready');
  if (kept.length) parts.push(`${kept.length} calibrated`);
  if (checking.length) parts.push(`${checking.length} being checked`);
  if (asked.length + doubtful.length) parts.push(`${asked.length + doubtful.length} to decide`);
  if (soon.length) parts.push(`${soon.length}${more} by\u00a0${by(soon)}`);
  if (later.length) parts.push(`${later.length} by\u00a0${by(later)}`);
  if (stuck.length) parts.push(`${stuck.length} will not get there`);
  if (silent.length) parts.push(`${silent.length} silent`);
  if (old.length) parts.push(`${old.length} out of date`);
  if (unknown.length) parts.push(`${unknown.length} without a time`);
  const rest = parts.join(', ');
  return hot.length ? `${hot.length} hot! ${rest}` : rest;
}

/** One line of what to do now, as parts; a hot tracker is a link to its tile, which may lie off the screen. Old verdicts send nobody. */
export function todo(groups, lost) {
  const { hot, ready, kept, stuck, silent, old } = groups;
  const look = [...silent, ...old, ...stuck];
  const parts = [];
  if (hot.length) parts.push('Uncover ', ...links(hot), ' now and stay there; the cell maker’s instructions go first. ');
  if (lost) return [...parts, 'What is shown is old: wait for the connection before you act on it.'];
  const steps = [ready.length ? whileReady(groups) : whileWaiting(groups), ...afterwards(groups)].filter(Boolean);
  parts.push(...(kept.length && !steps.length && !look.length ? ['Nothing is left to calibrate.'] : steps));
  if (look.length) parts.push(` See to ${list(look.map((v) => `${v.name} (${old.includes(v) ? 'out of date' : v.state})`))}.`);
  return parts;
}

function links(views) {
  return views.flatMap((v, i) => {
    const link = element('a', '', v.name);
    link.href = `#${tileId(v.id)}`;
    return i ? [', ', link] : [link];
  });
}

function whileReady({ ready, soon }) {
  if (!soon.length) return `Calibrate ${names(ready)}.`;
  return `Calibrate ${names(ready)}, or wait until ${by(soon)} for ${ready.length + soon.length} together: opening a cover they share sets the others back.`;
}

/** What calibrations leave to do. */
function afterwards({ checking, asked, doubtful }) {
  return [
    checking.length ? ` Leave ${names(checking)} alone until the check is done.` : '',
    asked.length ? ` Was ${names(asked)} calibrated? The tile asks.` : '',
    doubtful.length ? ` The check can’t tell of ${names(doubtful)}: keep it or do it again.` : '',
  ];
}

function whileWaiting({ soon, later, unknown }) {
  const leave = soon.length + later.length + unknown.length === 1 ? 'Leave it as it lies' : 'Leave them as they lie';
  if (!soon.length) return unknown.length ? `${leave} until the service can tell more.` : '';
  const [first] = soon;
  const rest = soon.length > 1 ? `. ${first.name} is expected first, at ${clock(first.readyAt.expectedMs)}.` : '.';
  return `${leave}${rest}`;
}

function names(views) {
  return list(views.map((v) => v.name));
}

function by(views) {
  return clock(Math.max(...views.map((v) => v.readyAt.expectedMs)));
}

/** The title of the page, with the count that matters first. */
export function title(groups, total, lost) {
  const { hot, ready } = groups;
  const counts = `${hot.length ? `${hot.length} hot, ` : ''}${ready.length} of ${total} ready`;
  return `${lost ? 'connection lost · ' : ''}${total ? counts : 'no tracker yet'} · Soakbench`;
}

// A calibration mark and its check in words.
import { told } from './moment.js';
import { element } from './nodes.js';
import { number, pretty } from './words.js';

const NO_BREAK = '\u00a0';

/** What became of it, as the name of a shape: question, undone, checking, keep, do_again or unknown. */
export function outcome({ status, check }) {
  if (status !== 'mark') return status;
  return check ? check.verdict : 'checking';
}

// With these the newest calibration counts, whichever soak it was seen in.
const COUNTS = ['keep', 'check', 'decide', 'answer'];

/** Whether a calibration came before this soak, or before the tracker was moved, so that it says nothing of now. */
export function isPast({ mark, step, readiness }) {
  return !COUNTS.includes(step) && (mark.soak !== readiness.soak || readiness.moved_since_check);
}

/**
 * "Calibrated 10:42 at 31.2 °C: keep", as parts; the figure is in the list of checks. What is past is told as past: it must
 * not speak against what is to be done now.
 */
export function line({ mark, readiness, nowMs }, past) {
  const kept = mark.check?.verdict === 'keep';
  const at = ['alibrated ', told(Date.parse(mark.at), nowMs), before(mark)];
  const since = mark.soak === readiness.soak ? 'Before it was moved' : 'Before this soak';
  if (past) return [`${since}: c`, ...at, kept ? ', kept.' : '.'];
  return ['C', ...at, ': ', ...(kept ? [element('b', '', 'keep')] : verdict(mark))];
}

/** "Calibrated? Lifted 10:42 at 31.2 °C, switched off and on.", as parts. */
export function question(mark, nowMs) {
  const rebooted = mark.rebooted ? ', switched off and on' : '';
  return [element('b', '', 'Calibrated?'), ' Lifted ', told(Date.parse(mark.at), nowMs), before(mark), rebooted, '.'];
}

/** What the check says, as parts: a word first, then the figure or the reason. */
export function verdict({ status, check, check_reason: checkReason }) {
  if (status === 'question') return [element('b', '', 'not answered yet')];
  if (status === 'undone') return [element('b', '', 'none'), ', somebody said'];
  if (!check) return [pretty(checkReason)];
  if (check.verdict === 'keep') return [element('b', '', 'keep'), `, ${left(check)}`];
  if (check.verdict !== 'unknown') return again(check);
  return goodNow(check) ? [element('b', '', 'good now'), `, ${left(check)}; ${inUse(check)}`] : [element('b', '', 'not known'), `, ${pretty(check.reason)}`];
}

/** Whether it is only not known what it will be in use. */
export function goodNow({ verdict: all, verdict_now: now }) {
  return all === 'unknown' && now === 'keep';
}

function left({ deg_per_min: now }) {
  return `${size(now, 1)}${NO_BREAK}°/min left`;
}

function inUse({ deg_per_min_in_use: use }) {
  return typeof use.value === 'number' ? `in use ${size(use, 1)}${NO_BREAK}°/min, not sure enough` : `in use ${size(use, 1)}`;
}

/** What to do goes before what was wrong. */
function again({ why, how }) {
  return [element('b', '', 'do it again'), how ? `, ${pretty(how)}; ${pretty(why)}` : `: ${pretty(why)}`];
}

function before({ temperature_c: c }) {
  return typeof c === 'number' ? ` at${NO_BREAK}${number(c, 1)}${NO_BREAK}°C` : '';
}

/** "0.3 ± 0.1", without its sign, which would have to be explained; or why there is no number. */
function size(estimate, decimals) {
  if (typeof estimate.value !== 'number') return `not known, ${pretty(estimate.reason)}`;
  return `${number(Math.abs(estimate.value), decimals)}${NO_BREAK}±${NO_BREAK}${number(half(estimate), decimals)}`;
}

/** "−0.31 (−0.43 to −0.19) °/min", or why there is no number. */
export function interval({ value, low, high, reason }, printedUnit, decimals) {
  if (typeof value !== 'number') return `not known, ${pretty(reason)}`;
  return `${number(value, decimals)} (${number(low, decimals)} to ${number(high, decimals)})${NO_BREAK}${printedUnit}`;
}

function half({ low, high }) {
  return (high - low) / 2;
}

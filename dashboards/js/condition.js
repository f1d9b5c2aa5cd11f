// Which condition a tracker waits for, and that condition in words with its numbers.
import { decimalsOf, limit, number, pretty, unit } from './words.js';

const LABELS = {
  heard: 'samples', still: 'lying still', operating_band: 'the band', near_use: 'nearness to use',
  temperature_settled: 'settling', shift: 'bias shift', dwell: 'the dwell', not_hot: 'cooling down',
};
const NO_BREAK = '\u00a0';
// What a state is about, first; a state not listed takes the first condition that fails.
const ABOUT = {
  hot: ['not_hot'], silent: ['heard'], disturbed: ['still'], stalled: ['operating_band'], warming: ['operating_band'],
  cooling: ['operating_band'],
};
// In these states what is not known matters more than what is not met.
const CANT_TELL = ['undecided', 'starting'];

/** The condition that holds a tracker up; for a ready one the shift, as evidence; null where there is none to name. */
export function binding(readiness) {
  const all = readiness.conditions ?? [];
  if (readiness.state === 'ready') return all.find((c) => c.name === 'shift') ?? null;
  const about = (ABOUT[readiness.state] ?? []).map((name) => all.find((c) => c.name === name));
  const failing = all.filter((c) => c.met === false);
  const unknown = all.filter((c) => c.met === null);
  const general = CANT_TELL.includes(readiness.state) ? [...unknown, ...failing] : [...failing, ...unknown];
  return [...about.filter((c) => c && c.met !== true), ...general.filter(notAWarning)][0] ?? null;
}

/** Near use only warns, unless a limit was set for it. */
function notAWarning(condition) {
  return condition.name !== 'near_use' || condition.limit_high !== null || condition.limit_low !== null;
}

/** A condition by its name, or undefined. */
export function named(readiness, name) {
  return (readiness.conditions ?? []).find((c) => c.name === name);
}

/** What people call it. */
export function label(condition) {
  return LABELS[condition.name] ?? condition.name.replaceAll('_', ' ');
}

/** "0.014 ± 0.002 of ±0.010 °/s", or why there is no number. */
export function figures(condition) {
  if (condition.value === null || condition.value === undefined) {
    return condition.reason ? `not known yet, because ${pretty(condition.reason)}` : 'not known yet';
  }
  const u = unit(condition.unit);
  const decimals = decimalsOf(u);
  return `${measured(condition, decimals)}${wanted(condition, decimals)}${u && NO_BREAK}${u}`;
}

function measured({ value, low, high }, decimals) {
  const text = number(value, decimals);
  if (typeof low !== 'number' || typeof high !== 'number' || high <= low) return text;
  const half = (high - low) / 2;
  const lopsided = Math.abs((high + low) / 2 - value) > 0.25 * half;
  if (lopsided) return `${text} (${number(low, decimals)} to ${number(high, decimals)})`;
  return `${text} ± ${atLeastOneDigit(half, decimals)}`;
}

/** An uncertainty is never rounded to nothing. */
function atLeastOneDigit(half, decimals) {
  return Number(half.toFixed(decimals)) === 0 ? `under ${number(10 ** -decimals, decimals)}` : number(half, decimals);
}

function wanted({ limit_low: low, limit_high: high }, decimals) {
  const hasLow = typeof low === 'number';
  const hasHigh = typeof high === 'number';
  if (hasLow && hasHigh) {
    return low === -high ? ` of ±${limit(high, decimals)}` : `, wanted ${limit(low, decimals)} to${NO_BREAK}${limit(high, decimals)}`;
  }
  if (hasHigh) return `, allowed up to ${limit(high, decimals)}`;
  return hasLow ? ` of ${limit(low, decimals)}` : '';
}

// A condition in words with its numbers.
import { decimalsOf, limit, number, pretty, unit } from './words.js';

const LABELS = {
  heard: 'samples without gaps', still: 'lying still', operating_band: 'the band', near_use: 'nearness to use',
  temperature_settled: 'settling', shift: 'bias shift', dwell: 'the dwell', not_hot: 'cooling down',
};
const NO_BREAK = '\u00a0';

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
  // Told as the service tells it in its lines of advice: a reason says more than a temperature that is only one cause of heat.
  if (condition.name === 'not_hot' && condition.reason) return pretty(condition.reason);
  // A gap that was is told in words: "10 of 5 s" would read like something that is still counted.
  if (condition.name === 'heard' && condition.reason) return pretty(condition.reason);
  const u = unit(condition.unit);
  const decimals = decimalsOf(u);
  return `${measured(condition, decimals)}${wanted(condition, decimals)}${u && NO_BREAK}${u}`;
}

/** With limits alike on both sides only the size matters; a sign would have to be explained. */
function measured({ value: given, low, high, limit_low: limitLow, limit_high: limitHigh }, decimals) {
  const value = typeof limitHigh === 'number' && limitLow === -limitHigh ? Math.abs(given) : given;
  const text = number(value, decimals);
  if (typeof low !== 'number' || typeof high !== 'number' || high <= low) return text;
  const half = (high - low) / 2;
  const lopsided = Math.abs((high + low) / 2 - given) > 0.25 * half;
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
    return low === -high ? ` of ${limit(high, decimals)}` : `, wanted ${limit(low, decimals)} to${NO_BREAK}${limit(high, decimals)}`;
  }
  if (hasHigh) return `, allowed up to ${limit(high, decimals)}`;
  return hasLow ? ` of ${limit(low, decimals)}` : '';
}

// Estimates, numbers with unit and interval, in words and in rows of tables.
import { number, pretty, signed } from '../../js/words.js';

const NO_BREAK = '\u00a0';

/** Minutes: of hours nobody wants tenths. */
export function minuteDecimals(minutes) {
  return minutes >= 100 ? 0 : 1;
}

/** Whether there is a figure. */
export function known(estimate) {
  return typeof estimate?.value === 'number';
}

/** "30.4 ± 0.1 °C", or with both limits where they are not alike far, or why there is none. */
export function told(estimate, unit, decimals, print = number) {
  if (!known(estimate)) return `not known: ${pretty(estimate?.reason ?? 'not asked')}`;
  return `${bare(estimate, decimals, print)}${unit && NO_BREAK}${unit}`;
}

/** The same without unit. */
export function bare({ value, low, high }, decimals, print = number) {
  const text = print(value, decimals);
  if (typeof low !== 'number' || typeof high !== 'number') return text;
  const half = (high - low) / 2;
  if (Math.abs((high + low) / 2 - value) > 0.1 * half) return `${text} (${number(low, decimals)} to ${number(high, decimals)})`;
  return `${text}${NO_BREAK}±${NO_BREAK}${atLeast(half, decimals)}`;
}

/** With its sign always told. */
export function signedTold(estimate, unit, decimals) {
  return told(estimate, unit, decimals, signed);
}

/** An uncertainty is never rounded to nothing. */
function atLeast(half, decimals) {
  return Number(half.toFixed(decimals)) === 0 ? `under${NO_BREAK}${number(10 ** -decimals, decimals)}` : number(half, decimals);
}

/** Columns of a table of figures; {@code row} makes one of its rows. */
export const FIGURE_COLUMNS = [{ name: 'figure' }, { name: 'value' }, { name: 'low, 95 %' }, { name: 'high, 95 %' }, { name: 'unit' }, { name: 'note' }];

export function row(name, estimate, unit, note = '') {
  return [name, estimate?.value ?? null, estimate?.low ?? null, estimate?.high ?? null, unit, estimate?.reason ? pretty(estimate.reason) : note];
}

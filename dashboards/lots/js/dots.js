// A dot a unit with its interval, its name and its number; the limit and each lot's median drawn through.
import { dot } from '../../charts/layers.js';
import { svgPen } from '../../charts/pens.js';
import { roundSplits } from '../../charts/round.js';
import { roomy, scale } from '../../charts/scale.js';
import { numberLabels } from '../../charts/ticks.js';
import { drawn } from '../../js/nodes.js';
import { number } from '../../js/words.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { LOOKS, markerStyle } from './looks.js';
import { decimalsFor, places } from './metrics.js';
import { isOpen } from './verdict.js';

const LETTER_PX = 7.4;
const FOOT_PX = 26;
/** Rows of one lot; of a greater one those that need a decision and the farthest. */
const MOST_ROWS = 48;
/** A limit farther off than so many times all values would press them together. */
const FAR = 2.5;

/** The units of a lot that have a row, by their values. */
export function rowsOf(lot, most = MOST_ROWS) {
  const found = lot.units.filter((unit) => known(unit.value));
  const far = (unit) => Math.abs(unit.value.value - lot.median);
  const shown = found.length <= most ? found
    : found.toSorted((a, b) => isOpen(b.screening) - isOpen(a.screening) || far(b) - far(a)).slice(0, most);
  return shown.toSorted((a, b) => a.value.value - b.value.value);
}

/** Limits, low and high, of the first lot that has some; null where none is set. */
export function limitsOf({ lots }) {
  const outside = lots.map((lot) => lot.outside).find(Boolean);
  return outside ? [outside.limit_low, outside.limit_high].filter((v) => v !== null) : [];
}

/** "limit 0.040". */
export function limitWords(limit) {
  return `limit ${number(limit, limit ? places(limit, 1) : 0)}`;
}

/** From where to where values are drawn, limits that are not far off with them. */
export function rangeOf(comparison, ends = (e) => [e.low ?? e.value, e.high ?? e.value]) {
  const values = comparison.lots.flatMap((lot) => lot.units.filter((u) => known(u.value)).flatMap((u) => [u.value.value, ...ends(u.value)]));
  const most = Math.max(0, ...values.map(Math.abs));
  const [low, high] = roomy([...values, ...limitsOf(comparison).filter((limit) => Math.abs(limit) <= FAR * most)], most / 50 || 1);
  return [Math.min(...values) >= 0 && low < 0 ? 0 : low, high];
}

/** The picture, so many px wide; names lead to their trackers. {@code row} is a row's height, {@code most} how many a lot has at most. */
export function dotsPicture(comparison, width, { row = 20, most = MOST_ROWS } = {}) {
  const laid = layout(comparison, width, row, most);
  const svg = drawn('svg', { width, height: laid.height, viewBox: `0 0 ${width} ${laid.height}`, class: 'dots' });
  const pen = svgPen(svg);
  grid(pen, laid);
  laid.lots.forEach((lot) => lotRows(svg, pen, laid, lot));
  limits(pen, laid, limitsOf(comparison));
  return svg;
}

function layout(comparison, width, row, most) {
  const lots = comparison.lots.map((lot, i) => ({ ...lot, look: LOOKS[i], rows: rowsOf(lot, most) }));
  const decimals = decimalsFor(lots.flatMap((lot) => lot.rows.map((unit) => unit.value)));
  const text = (unit) => bare(unit.value, decimals);
  const longest = (texts, least = 4) => LETTER_PX * Math.max(least, ...texts.map((t) => t.length)) + 12;
  const left = Math.min(longest(lots.flatMap((l) => l.rows.map((u) => u.name))), 0.3 * width);
  const right = width - Math.min(longest(lots.flatMap((l) => l.rows.map(text)), 9), 0.38 * width);
  let y = 18;
  for (const lot of lots) {
    lot.top = y;
    y += row + 2 + row * lot.rows.length + 6;
  }
  const range = rangeOf(comparison);
  return { lots, text, decimals, left, right, row, width, range, bottom: y, height: y + FOOT_PX, x: scale(range, left + 8, right - 8) };
}

function grid(pen, { range, x, bottom, left, right }) {
  const splits = roundSplits(...range, Math.max(2, Math.floor((right - left) / 64)));
  numberLabels(splits).forEach((label, i) => {
    pen.path([[x(splits[i]), 14, x(splits[i]), bottom]], { stroke: '--line' });
    pen.text(x(splits[i]), bottom + 18, label, { fill: '--soft', align: 'center' });
  });
}

function lotRows(svg, pen, { row, width, x, left, text, decimals }, lot) {
  const under = lot.top + row;
  pen.text(0, lot.top + 13, lot.lot, { bold: true });
  const median = lot.median === null ? '' : `, median ${number(lot.median, Math.max(decimals, places(lot.median || 1, 2)))}`;
  pen.text(width, lot.top + 13, `${lot.n} ${lot.n === 1 ? 'unit' : 'units'}${median}`, { fill: '--soft', align: 'right' });
  if (lot.median !== null) pen.path([[x(lot.median), under, x(lot.median), under + row * lot.rows.length + 2]], { stroke: lot.look.colour, width: 1.6, dash: lot.look.dash });
  lot.rows.forEach((unit, i) => {
    const y = under + 2 + row * (i + 0.5);
    const { value, low, high } = unit.value;
    const bold = isOpen(unit.screening);
    if (typeof low === 'number' && typeof high === 'number') pen.rect(x(low), y - 3, Math.max(1, x(high) - x(low)), 6, { fill: lot.look.colour, alpha: 0.35 });
    dot(pen, x(value), y, lot.look.marker, markerStyle(lot.look), 3.6);
    name(svg, unit, left, y + 4.5, bold);
    pen.text(width, y + 4.5, text(unit), { fill: bold ? '--ink' : '--soft', bold, align: 'right' });
  });
}

/** A name that is too long ends in an ellipsis; the whole one is its title. */
function name(svg, unit, left, y, bold) {
  const link = drawn('a', { href: `/tracker/${encodeURIComponent(unit.tracker)}` });
  const most = Math.floor((left - 6) / LETTER_PX);
  const full = drawn('title');
  full.textContent = `${unit.name}, ${unit.tracker}: ${unit.screening.verdict}`;
  link.append(full);
  svg.append(link);
  svgPen(link).text(left, y, unit.name.length > most ? `${unit.name.slice(0, most - 1)}…` : unit.name, { bold, align: 'right' });
}

function limits(pen, { x, range, bottom, right }, found) {
  for (const limit of found.filter((v) => v >= range[0] && v <= range[1])) {
    pen.path([[x(limit), 4, x(limit), bottom]], { stroke: '--ink', width: 1.6, dash: [3, 3] });
    const late = x(limit) > right - 90;
    pen.text(x(limit) + (late ? -5 : 5), 12, limitWords(limit), { align: late ? 'right' : 'left' });
  }
}

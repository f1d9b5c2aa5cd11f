// The thermometer lying down. One scale for all tiles, taken from the limits that the verdicts carry.
import { named } from './condition.js';
import { drawn, setAttributes } from './nodes.js';
import { number } from './words.js';

const LINE_Y = 12;

/**
 * The common scale, degC: two band widths below the lowest band to half a width above the hot limit (or one above the
 * band where there is no hot limit), stretched in half widths down to the coldest tracker, at most four widths.
 * Null where no verdict carries a band.
 */
export function scaleOf(readinesses) {
  const bands = readinesses.map(band).filter(Boolean);
  if (!bands.length) return null;
  const low = Math.min(...bands.map((b) => b.low));
  const high = Math.max(...bands.map((b) => b.high));
  const width = high - low;
  const hots = readinesses.map(hotLimit).filter((c) => typeof c === 'number');
  const coldest = Math.min(low - 2 * width, ...readinesses.map((r) => r.temperature_c).filter((c) => typeof c === 'number'));
  const down = Math.min(8, Math.ceil((low - coldest) / (width / 2)));
  return { from: low - down * width / 2, to: Math.max(high + width, ...hots.map((c) => c + width / 2)), step: width / 3 };
}

/** The operating band of a verdict, degC, or null. */
export function band(readiness) {
  const c = named(readiness, 'operating_band');
  const known = typeof c?.limit_low === 'number' && typeof c?.limit_high === 'number' && c.limit_high > c.limit_low;
  return known ? { low: c.limit_low, high: c.limit_high } : null;
}

function hotLimit(readiness) {
  const c = named(readiness, 'not_hot');
  return c?.unit === 'degC' ? c.limit_high : null;
}

/** A drawing of one tracker's temperature; call {@code update} with each verdict. */
export function gauge() {
  const svg = drawn('svg', { class: 'gauge', role: 'img', focusable: 'false' });
  return { svg, update: (readiness, scale) => update(svg, readiness, scale) };
}

function update(svg, readiness, scale) {
  setAttributes(svg, { 'aria-label': spoken(readiness) });
  const key = JSON.stringify([scale, band(readiness), hotLimit(readiness), readiness.temperature_c]);
  if (svg.dataset.key === key) return;
  svg.dataset.key = key;
  svg.replaceChildren(...(scale ? pieces(readiness, scale) : []));
}

function pieces(readiness, scale) {
  const at = (c) => `${clamp01((c - scale.from) / (scale.to - scale.from)) * 100}%`;
  const c = readiness.temperature_c;
  const parts = [line('axis', '0%', '100%', LINE_Y), ...ticks(scale, at), ...bandPieces(band(readiness), at)];
  const hot = hotLimit(readiness);
  if (typeof hot === 'number') parts.push(upright('limit', at(hot), 2, 22), text(at(hot), number(hot, 0)));
  if (typeof c === 'number') parts.push(line('column', '0%', at(c), LINE_Y), upright('needle', at(c), 0, 24));
  return parts;
}

function ticks({ from, to, step }, at) {
  const parts = [];
  for (let c = Math.ceil(from / step) * step; c <= to; c += step) parts.push(upright('tick', at(c), LINE_Y - 3, LINE_Y + 3));
  return parts;
}

function bandPieces(limits, at) {
  if (!limits) return [];
  const [x, end] = [at(limits.low), at(limits.high)];
  const width = `${parseFloat(end) - parseFloat(x)}%`;
  return [drawn('rect', { class: 'band', x, width, y: 4, height: 16, rx: 2 }),
    text(x, number(limits.low, 0)), text(end, `${number(limits.high, 0)} °C`)];
}

function line(className, x1, x2, y) {
  return drawn('line', { class: className, x1, x2, y1: y, y2: y });
}

function upright(className, x, y1, y2) {
  return drawn('line', { class: className, x1: x, x2: x, y1, y2 });
}

function text(x, words) {
  const node = drawn('text', { x, y: 36 });
  node.textContent = words;
  return node;
}

function clamp01(x) {
  return Math.max(0, Math.min(1, x));
}

function spoken(readiness) {
  const limits = band(readiness);
  const c = readiness.temperature_c;
  const where = typeof c === 'number' ? `${number(c, 1)} °C` : 'temperature not known';
  if (!limits) return where;
  const bandText = `the band of ${number(limits.low, 1)} to ${number(limits.high, 1)} °C`;
  if (typeof c !== 'number') return `${where}; ${bandText}`;
  return `${where}, ${c < limits.low ? 'below' : c > limits.high ? 'above' : 'in'} ${bandText}`;
}

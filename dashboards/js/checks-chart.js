// What the checks of one tracker found, one calibration after another, against what is allowed.
import { goodNow, outcome } from './calibrated.js';
import { drawn } from './nodes.js';
import { shape } from './shapes.js';
import { clock, day, number, sameDay } from './words.js';

const MOST = 30;
const TOP_PX = 24;
const ZERO_PX = 108;
// What is farther off than this many limits stands at the upper edge; its number tells how far.
const MOST_LIMITS = 4;
const SPOKEN = { keep: 'keep', do_again: 'do it again', unknown: 'not known' };

/** A drawing of the newest marks that have a figure, of marks given newest first; null where fewer than two have one. */
export function checksChart(marks, nowMs) {
  const found = marks.filter(({ check }) => typeof check?.deg_per_min.value === 'number').slice(0, MOST).reverse().map(left);
  if (found.length < 2) return null;
  const allowed = found.at(-1).allowed;
  const [first, last] = [found[0], found.at(-1)].map(({ atMs }) => (sameDay(atMs, nowMs) ? clock(atMs) : day(atMs)));
  const most = Math.max(2 * allowed, Math.min(MOST_LIMITS * allowed, Math.max(...found.map((f) => f.high))));
  const y = (degPerMin) => ZERO_PX - Math.min(1, degPerMin / most) * (ZERO_PX - TOP_PX);
  const svg = drawn('svg', { class: 'checks-chart', role: 'img', 'aria-label': spoken(found, allowed), focusable: 'false' });
  svg.append(text('0', 12, 'Left after each calibration, worst axis, °/min'), level('axis', ZERO_PX), level('limit', y(allowed)),
    text('100%', y(allowed) - 4, `${number(allowed, 1)} allowed`, 'end'),
    ...found.flatMap((f, i) => marker(f, place(i, found), y)), text(place(0, found), ZERO_PX + 24, first, 'middle'),
    text(place(found.length - 1, found), ZERO_PX + 24, last, 'middle'));
  return svg;
}

/** Sizes without sign, as in the line of the tile. */
function left(mark) {
  const { value, low, high } = mark.check.deg_per_min;
  const size = Math.abs(value);
  const half = (high - low) / 2;
  return {
    size, low: Math.max(0, size - half), high: size + half, verdict: outcome(mark), atMs: Date.parse(mark.at), allowed: mark.check.limit_deg_per_min,
    spoken: goodNow(mark.check) ? 'good now' : SPOKEN[outcome(mark)],
  };
}

/** They are told apart by their order: some are minutes apart, some months. */
function place(i, found) {
  return `${100 * (i + 0.5) / found.length}%`;
}

/** Outline tells the verdict, as everywhere; a number is only told where the place can't. */
function marker({ size, low, high, verdict }, x, y) {
  const interval = drawn('line', { class: 'interval', x1: x, x2: x, y1: y(low), y2: y(high) });
  const centred = drawn('g', { transform: 'translate(-8 -8)' });
  const picture = shape(verdict);
  for (const [key, value] of Object.entries({ x, y: y(size), width: 16, height: 16 })) picture.setAttribute(key, value);
  centred.append(picture);
  const parts = [interval, centred];
  return y(size) > TOP_PX ? parts : [...parts, text(x, TOP_PX + 24, number(size, 1), 'middle')];
}

function level(name, y) {
  return drawn('line', { class: name, x1: '0%', x2: '100%', y1: y, y2: y });
}

function text(x, y, words, anchor = 'start') {
  const node = drawn('text', { x, y, 'text-anchor': anchor });
  node.textContent = words;
  return node;
}

function spoken(found, allowed) {
  const each = found.map((f) => `${number(f.size, 1)} (${f.spoken})`).join(', ');
  return `Left after each of ${found.length} calibrations, the oldest first, °/min: ${each}. ${number(allowed, 1)} are allowed.`;
}

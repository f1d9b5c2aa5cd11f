// Temperatures of soaks over each other, each from its own beginning; lines differ by colour, dash and name.
import { drawn } from '../../js/nodes.js';
import { number } from '../../js/words.js';

const HEIGHT = 340;
const EDGE = { left: 52, top: 12, bottom: 40 };
const LABEL_PX = 16;
const LETTER_PX = 8.2;
/** Names may take so much of the width. */
const MOST_NAME = 0.42;
const S_PER_MIN = 60;
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480];
const GAPS = 6;

/** Draws entries {brief (its name), points: [[s, °C], …], readyS} and the operating band into an svg. */
export function overlay(svg, entries, band) {
  const width = svg.clientWidth || 600;
  const points = entries.flatMap((entry) => entry.points);
  if (!points.length) return svg.replaceChildren();
  const name = LETTER_PX * Math.max(...entries.map((entry) => entry.brief.length)) + 12;
  const frame = frameOf(points, band, width, Math.min(name, MOST_NAME * width));
  svg.setAttribute('viewBox', `0 0 ${width} ${HEIGHT}`);
  svg.replaceChildren(...grid(frame), ...limits(frame, band), ...entries.flatMap((entry, i) => line(frame, entry, i)), ...labels(frame, entries));
}

function frameOf(points, band, width, right) {
  const temperatures = [...points.map(([, c]) => c), band.band_low_c, band.band_high_c];
  const low = Math.floor((least(temperatures) - 1) / 5) * 5;
  const high = Math.ceil((-least(temperatures.map((c) => -c)) + 1) / 5) * 5;
  const endS = Math.max(S_PER_MIN, -least(points.map(([s]) => -s)));
  return {
    plot: width - EDGE.left - right, low, high, endS,
    x: (s) => EDGE.left + s / endS * (width - EDGE.left - right),
    y: (c) => EDGE.top + (high - c) / (high - low) * (HEIGHT - EDGE.top - EDGE.bottom),
  };
}

/** Math.min takes only so many arguments. */
function least(values) {
  return values.reduce((a, b) => Math.min(a, b), Infinity);
}

function grid({ x, y, low, high, endS, plot }) {
  const nodes = [];
  for (let c = low; c <= high; c += 5) nodes.push(drawn('path', { d: `M${EDGE.left} ${y(c)}H${x(endS)}`, class: 'grid' }), text(EDGE.left - 8, y(c) + 5, `${number(c, 0)}${c === high ? ' °C' : ''}`, 'end'));
  const most = Math.max(2, plot / 70);
  const stepS = S_PER_MIN * (STEPS_MIN.find((min) => endS / S_PER_MIN / min <= most) ?? Math.ceil(endS / S_PER_MIN / most));
  for (let s = 0; s <= endS; s += stepS) nodes.push(drawn('path', { d: `M${x(s)} ${y(low)}v5`, class: 'axis' }), text(x(s), y(low) + 19, number(s / S_PER_MIN, 0)));
  nodes.push(text(x(endS), HEIGHT - 4, 'minutes since it began', 'end'));
  return nodes;
}

function limits({ x, y, endS }, { band_low_c: low, band_high_c: high }) {
  return [drawn('rect', { x: x(0), y: y(high), width: x(endS) - x(0), height: y(low) - y(high), class: 'band' }), text(x(0) + 6, y(high) - 5, `operating band ${number(low, 0)} to ${number(high, 0)} °C`, 'start')];
}

function line({ x, y }, { points, readyS }, i) {
  const spacing = points.length > 1 ? (points.at(-1)[0] - points[0][0]) / (points.length - 1) : 1;
  const d = points.map(([s, c], k) => `${k && s - points[k - 1][0] <= Math.max(10, GAPS * spacing) ? 'L' : 'M'}${x(s).toFixed(1)} ${y(c).toFixed(1)}`).join('');
  const nodes = [drawn('path', { d, class: `line line-${i}` })];
  const at = readyS === null ? null : points.find(([s]) => s >= readyS);
  if (at) nodes.push(drawn('circle', { cx: x(at[0]), cy: y(at[1]), r: 5, class: `line-${i} ready` }));
  return nodes;
}

/** Names at the lines' ends, moved apart where they would lie on each other. */
function labels({ x, y }, entries) {
  const ends = entries.map((entry, i) => ({ i, name: entry.brief, end: entry.points.at(-1) })).filter(({ end }) => end)
    .map((each) => ({ ...each, at: y(each.end[1]) })).sort((a, b) => a.at - b.at);
  let last = -Infinity;
  return ends.map(({ i, name, end, at }) => {
    last = Math.max(at + 5, last + LABEL_PX);
    const node = text(x(end[0]) + 8, last, name, 'start');
    node.setAttribute('class', `name line-${i}`);
    return node;
  });
}

function text(x, y, words, anchor = 'middle') {
  const node = drawn('text', { x, y, 'text-anchor': anchor });
  node.textContent = words;
  return node;
}

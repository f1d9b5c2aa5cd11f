// The empirical distribution: what share of a lot's units lies at or below each value.
import { line, points, upright } from '../../charts/layers.js';
import { numberLabels } from '../../charts/ticks.js';
import { known } from '../../tracker/js/estimate.js';
import { limitsOf, limitWords, rangeOf } from './dots.js';
import { key, LOOKS } from './looks.js';

/** How a chart of it is set up. */
export const SPREAD_SPEC = { x: { labels: numberLabels, size: 30, space: 60 }, y: { labels: shareLabels, size: 40, space: 20 }, right: 10 };

/** "half", "all". */
export function shareLabels(splits) {
  return splits.map((v) => ({ 0: '0', 0.5: 'half', 1: 'all' })[Math.round(v * 100) / 100] ?? '');
}

/** Values of a lot's units in order. */
export function sorted(lot) {
  return lot.units.filter((unit) => known(unit.value)).map((unit) => unit.value.value).sort((a, b) => a - b);
}

/** What a chart shows. */
export function spreadPicture(comparison) {
  const range = rangeOf(comparison, () => []);
  const layers = comparison.lots.flatMap((lot, i) => steps(sorted(lot), LOOKS[i], range));
  const limits = limitsOf(comparison).filter((v) => v > range[0] && v < range[1])
    .map((v) => upright(v, limitWords(v), { stroke: '--ink', width: 1.6, dash: [3, 3] }, 'top'));
  return { x: range, y: [-0.03, 1.2], layers: [...limits, ...layers, key(comparison.lots)] };
}

function steps(values, { colour, dash, marker, hollow }, [low, high]) {
  if (!values.length) return [];
  const xs = [low];
  const ys = [0];
  values.forEach((v, k) => {
    xs.push(v, v);
    ys.push(k / values.length, (k + 1) / values.length);
  });
  xs.push(high);
  ys.push(1);
  return [
    line(xs, ys, { stroke: colour, width: 1.5, dash }),
    points(values, values.map((v, k) => (k + 1) / values.length), { marker, colour, hollow: () => Boolean(hollow) }),
  ];
}

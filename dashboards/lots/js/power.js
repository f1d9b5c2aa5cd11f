// What could have been seen: the difference that was found beside those that so few units can't show.
import { dot } from '../../charts/layers.js';
import { svgPen } from '../../charts/pens.js';
import { roundSplits } from '../../charts/round.js';
import { roomy, scale } from '../../charts/scale.js';
import { numberLabels } from '../../charts/ticks.js';
import { drawn } from '../../js/nodes.js';
import { list, number, pretty, sentence } from '../../js/words.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { decimalsFor, places, printed } from './metrics.js';

const HEIGHT = 118;
const MANY = 1_000_000;

/** {found, zone, isRatio}: what was found and what would have gone unseen; null where nothing is known. */
export function powerOf({ spread, level, detectable }) {
  if (known(spread.ratio) && detectable.ratio) return { found: spread.ratio, zone: [1 / detectable.ratio, detectable.ratio], isRatio: true };
  if (known(level.difference) && detectable.difference) return { found: level.difference, zone: [-detectable.difference, detectable.difference], isRatio: false };
  return null;
}

/** A sentence, as parts. */
export function powerWords(comparison) {
  const { detectable, units_needed: needed, lots, unit } = comparison;
  if (detectable.reason || !(detectable.ratio || detectable.difference)) return [`${sentence(pretty(detectable.reason ?? 'nothing is known of that'))}.`];
  const units = list(lots.map((lot) => String(lot.n)), 8);
  const said = [];
  if (detectable.ratio) said.push(`a ratio of ${number(detectable.ratio, 2)} or more`);
  if (detectable.difference) said.push(`a difference of means of ${number(detectable.difference, places(detectable.difference, 1))} ${printed(unit)}`);
  return [`${units} units show ${said.join(', or ')}, in ${Math.round(detectable.power * 5)} trials of 5. ${neededWords(needed, unit)}`];
}

function neededWords({ ratio, each_for_ratio: forRatio, difference, each }, unit) {
  const count = (n) => (n >= MANY ? 'a million or more' : n.toLocaleString('en'));
  const parts = [];
  if (forRatio) parts.push(`for a ratio of ${number(ratio, 2)} it takes ${count(forRatio)} of each`);
  if (each) parts.push(`for a difference of ${number(difference, places(difference, 1))} ${printed(unit)} ${count(each)} of each`);
  return parts.length ? `${sentence(parts.join(', '))}.` : '';
}

/** The picture; null where nothing is known. */
export function powerPicture(comparison, width) {
  const power = powerOf(comparison);
  if (!power) return null;
  const { found, zone, isRatio } = power;
  const svg = drawn('svg', { width, height: HEIGHT, viewBox: `0 0 ${width} ${HEIGHT}` });
  const pen = svgPen(svg);
  const ends = [found.value, found.low, found.high, ...zone].filter((v) => typeof v === 'number');
  const [low, high] = roomy(isRatio ? ends.map(Math.log) : ends, 0.2);
  const x = scale(isRatio ? [Math.exp(low), Math.exp(high)] : [low, high], 70, width - 10, isRatio);
  axis(pen, { low, high, x, isRatio, width });
  pen.text(width - 10, HEIGHT - 2, whose(comparison, isRatio), { fill: '--soft', align: 'right' });
  pen.text(62, 30, 'found', { align: 'right' });
  pen.text(62, 62, 'unseen', { align: 'right' });
  pen.rect(x(zone[0]), 52, x(zone[1]) - x(zone[0]), 14, { fill: '--hatch', stroke: '--rule' });
  if (typeof found.low === 'number') pen.rect(x(found.low), 20, x(found.high) - x(found.low), 12, { fill: '--hot', alpha: 0.35 });
  dot(pen, x(found.value), 26, 'diamond', { fill: '--hot', stroke: '--hot' }, 5);
  const decimals = isRatio ? 2 : decimalsFor([found]);
  pen.text(x(found.value), 14, bare(found, decimals), { bold: true, align: 'center' });
  return svg;
}

/** What the axis shows: "median size: Thistle-5 over Barley-2". */
function whose({ lots, differ_most: differ, unit }, isRatio) {
  const [a, b] = differ.length ? differ : lots.map((lot) => lot.lot);
  return isRatio ? `median size: ${b} over ${a}` : `mean: ${b} less ${a}, ${printed(unit)}`;
}

function axis(pen, { low, high, x, isRatio, width }) {
  const ticks = isRatio ? [0.1, 0.2, 0.5, 0.7, 1, 1.5, 2, 3, 5, 10, 20].filter((v) => Math.log(v) >= low && Math.log(v) <= high) : roundSplits(low, high, Math.max(2, width / 110));
  const labels = isRatio ? ticks.map((v) => `× ${v}`) : numberLabels(ticks);
  ticks.forEach((v, i) => {
    pen.path([[x(v), 18, x(v), 76]], { stroke: v === (isRatio ? 1 : 0) ? '--ink' : '--line' });
    pen.text(x(v), 94, labels[i], { fill: '--soft', align: 'center' });
  });
}

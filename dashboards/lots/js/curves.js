// Bias against temperature of every unit, an axis a chart, the lots over one another with their bands.
import { band, line, upright } from '../../charts/layers.js';
import { roomy } from '../../charts/scale.js';
import { numberLabels } from '../../charts/ticks.js';
import { list, number, pretty } from '../../js/words.js';
import { LOOKS } from './looks.js';

const AXES = ['x', 'y', 'z'];
const LEAST_DPS = 0.01;
/** A band of few units is so wide that nothing else could be seen. */
const MOST_OF_BAND = 2;
const LETTER_HEIGHT_PX = 14;

/** How a chart of them is set up. */
export const CURVES_SPEC = { x: { labels: numberLabels, size: 30, space: 44 }, y: { labels: numberLabels, size: 54, space: 34 }, right: 8 };

/** What a chart shows of one axis; units in {@code marked} (a set of trackers) are dark and named. */
export function curvesPicture({ zero_at_c: atC, temperatures_c: t, lots }, axis, marked, span) {
  if (!t.length) return { x: [0, 1], y: [0, 1], layers: [] };
  const i = AXES.indexOf(axis);
  const layers = lots.flatMap((lot, k) => [
    band(t, lot.tolerance_bands[i].low_dps, lot.tolerance_bands[i].high_dps, { fill: LOOKS[k].colour, alpha: 0.13 }),
    ...lot.units.filter((unit) => unit.bias.axes.length && !marked.has(unit.tracker)).map((unit) => line(t, unit.bias.axes[i].difference_dps, { stroke: LOOKS[k].colour, width: 1, dash: LOOKS[k].dash, alpha: 0.75 })),
  ]);
  const dark = lots.flatMap((lot) => lot.units.filter((unit) => unit.bias.axes.length && marked.has(unit.tracker)));
  return {
    x: [t[0], t.at(-1)], y: [-span, span], xs: t,
    layers: [...layers, upright(atC, `${number(atC, 1)} °C`, { stroke: '--soft', dash: [1, 4] }),
      ...dark.map((unit) => line(t, unit.bias.axes[i].difference_dps, { stroke: '--ink', width: 1.5 })), names(dark, t, i)],
  };
}

/** Names at the ends where the lines lie farther apart, a line between two; those for which there is no room are in the table. */
function names(units, t, i) {
  return (pen, frame) => {
    const lines = units.map(({ name, bias }) => ({ name, values: bias.axes[i].difference_dps, found: ends(bias.axes[i].difference_dps) })).filter(({ found }) => found);
    const early = lines.reduce((sum, { values, found: [a, z] }) => sum + Math.abs(values[a]) - Math.abs(values[z]), 0) > 0;
    const placed = lines.map(({ name, values, found }) => ({ name, k: found[early ? 0 : 1], values })).map(({ name, k, values }) => ({ name, x: frame.x(t[k]), y: frame.y(values[k]) }));
    let last = -Infinity;
    for (const { name, x, y } of placed.sort((a, b) => a.y - b.y)) {
      if (y - last < LETTER_HEIGHT_PX || y < frame.top + 10 || y > frame.bottom - 2) continue;
      last = y;
      pen.text(x + (early ? 4 : -4), y - 4, name, { bold: true, align: early ? 'left' : 'right' });
    }
  };
}

/** The first and the last place where something is known; null where nothing is. */
function ends(values) {
  const first = values.findIndex((v) => v !== null);
  return first < 0 ? null : [first, values.findLastIndex((v) => v !== null)];
}

/** Half the height that every axis's chart needs: all are drawn on one scale. */
export function commonSpan({ lots }) {
  const lines = roomy(lots.flatMap((lot) => lot.units.flatMap((unit) => unit.bias.axes.flatMap((axis) => axis.difference_dps))), LEAST_DPS);
  const most = Math.max(...lines.map(Math.abs));
  const bands = lots.flatMap((lot) => lot.tolerance_bands.flatMap((b) => [...b.low_dps, ...b.high_dps])).filter((v) => v !== null).map(Math.abs);
  return Math.max(most, Math.min(MOST_OF_BAND * most, 1.05 * Math.max(0, ...bands)));
}

/** Which axes are drawn: that of the figure, or all. */
export function axesOf(axis) {
  return axis ? [axis] : AXES;
}

/** What is said of them. */
export function curvesWords({ zero_at_c: atC, lots }) {
  if (atC === null) return 'No unit of these lots has a bias curve yet.';
  const without = lots.flatMap((lot) => lot.units.filter((unit) => !unit.bias.axes.length));
  const left = lots.filter((lot) => lot.left_off);
  const noBand = lots.filter((lot) => lot.tolerance_bands[0].reason).map((lot) => `${lot.lot}: ${pretty(lot.tolerance_bands[0].reason)}`);
  return [`Each unit’s newest curve less its bias at ${number(atC, 1)} °C, as far as it was measured. Pale: where 95 % of the lot’s units lie, with 95 % confidence.`,
    noBand.length ? ` No band for ${noBand.join('; ')}.` : '',
    without.length ? ` Not drawn: ${list(without.map((unit) => `${unit.name} (${pretty(unit.bias.reason)})`), 3)}.` : '',
    left.length ? ` Drawn are the first ${left[0].units.length} units of ${list(left.map((lot) => lot.lot), 4)}.` : ''].join('');
}

/** All of it as a table. */
export function curvesToTake({ temperatures_c: t, lots }) {
  const columns = [{ name: 'lot' }, { name: 'what' }, { name: 'axis' }, ...t.map((c) => ({ name: number(c, 2), unit: '°C' }))];
  const rows = lots.flatMap((lot) => [
    ...lot.tolerance_bands.flatMap((b) => [[lot.lot, 'band, low', b.axis, ...b.low_dps], [lot.lot, 'band, high', b.axis, ...b.high_dps]]),
    ...lot.units.flatMap((unit) => unit.bias.axes.map((axis) => [lot.lot, unit.name, axis.axis, ...axis.difference_dps])),
  ]);
  return { columns, rows };
}

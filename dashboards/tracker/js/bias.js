// Bias against temperature: the measured half-minutes, the fitted curve with its band, dashed where nothing was seen.
import { Chart } from '../../charts/chart.js';
import { Figure } from '../../charts/figure.js';
import { band, box, line, points, upright } from '../../charts/layers.js';
import { AXES } from '../../charts/paint.js';
import { roomy } from '../../charts/scale.js';
import { numberLabels } from '../../charts/ticks.js';
import { element, setParts } from '../../js/nodes.js';
import { number, pretty, sentence } from '../../js/words.js';
import { known, signedTold } from './estimate.js';

const UNIT = '°/s per °C';
const LEAST_SPAN_DPS = 0.02;

export class Bias {
  #figure = new Figure('bias', 'Bias against temperature', { table: () => table(this.#curve), pictures: () => this.#charts.map((c, i) => ({ svg: c.chart.svg(), words: `${c.name}, °/s, against temperature, °C: ${coefficient(this.#curve.axes[i])}` })) });
  #charts;
  #curve = null;

  constructor(place) {
    place.append(this.#figure.node);
    this.#figure.body.classList.add('three');
    this.#charts = AXES.map((axis) => panel(this.#figure.body, axis));
    this.#figure.wait();
  }

  /** A bias curve of the service and the limits of its soak. */
  async show(curve, limits, file) {
    this.#curve = curve;
    this.#figure.say(words(curve, limits), file);
    this.#figure.body.hidden = Boolean(curve.reason);
    if (curve.reason) return;
    const span = commonSpan(curve);
    await Promise.all(this.#charts.map((c, i) => draw(c, AXES[i], curve.axes[i], limits, span)));
  }
}

function panel(place, { name, colour }) {
  const title = element('p', 'panel-title');
  const drawing = element('div', 'panel-chart');
  drawing.setAttribute('role', 'img');
  drawing.setAttribute('aria-label', `Bias of ${name} against temperature: not drawn yet`);
  place.append(element('div', 'panel', title, drawing));
  const chart = new Chart(drawing, {
    height: 250, x: { labels: numberLabels, size: 40, space: 44 }, y: { labels: numberLabels, size: 56, space: 34 }, right: 8,
  });
  return { title, drawing, chart, name, colour };
}

function draw({ title, drawing, chart }, kind, axis, limits, span) {
  setParts(title, [element('b', '', kind.name), ` ${coefficient(axis)}`]);
  drawing.setAttribute('aria-label', `Bias of ${kind.name} against temperature: ${coefficient(axis)}`);
  return chart.show(picture(axis, kind, limits, span));
}

/** The coefficient of an axis in words, or why there is none. */
export function coefficient(axis) {
  return axis.reason ? pretty(axis.reason) : signedTold(axis.tempco_dps_per_c, UNIT, 4);
}

/** The widest that any axis needs: all are drawn on one scale, so that slopes compare. */
export function commonSpan(curve) {
  return Math.max(LEAST_SPAN_DPS, ...curve.axes.map(width));
}

/** What a chart shows of one axis. */
export function picture(axis, { colour, dash, marker }, limits, span) {
  if (axis.reason) return { x: [0, 1], y: [0, 1], layers: [] };
  const t = axis.bands.map((p) => p.temperature_c);
  const inside = (part) => axis.bands.map((p) => (p.extrapolated ? null : p[part]));
  const m = axis.measured;
  const [low, high] = roomy(valuesOf(axis), span * 1.1, 0);
  return {
    x: [t[0], t.at(-1)],
    y: [low, high],
    xs: t,
    layers: [
      ...(limits ? [box(limits.band_low_c, limits.band_high_c, null, null, { stroke: '--rule' }),
        upright(limits.use_temperature_c, `use ${number(limits.use_temperature_c, 0)} °C`, { stroke: '--soft', dash: [1, 4] })] : []),
      band(t, axis.bands.map((p) => p.confidence_low_dps), axis.bands.map((p) => p.confidence_high_dps), { fill: colour, alpha: 0.2 }),
      line(t, axis.bands.map((p) => p.bias_dps), { stroke: colour, width: 1, dash: [3, 4], alpha: 0.8 }),
      line(t, inside('bias_dps'), { stroke: colour, width: 1.6, dash: dash.length ? dash : undefined }),
      points(m.map((p) => p.temperature_c), m.map((p) => p.bias_dps), { marker, colour, hollow: (i) => m[i].branch !== 'cooling' }),
    ],
  };
}

/** What must be seen: all that was measured, and the curve over it. */
function valuesOf(axis) {
  return [...axis.measured.map((p) => p.bias_dps), ...axis.bands.filter((p) => !p.extrapolated).map((p) => p.bias_dps)];
}

function width(axis) {
  if (axis.reason) return 0;
  const values = valuesOf(axis);
  return Math.max(...values) - Math.min(...values);
}

function words(curve, limits) {
  if (curve.reason) return [`${sentence(pretty(curve.reason))}.`];
  const steepest = curve.axes.filter((a) => known(a.tempco_dps_per_c))
    .sort((a, b) => Math.abs(b.tempco_dps_per_c.value) - Math.abs(a.tempco_dps_per_c.value))[0];
  if (!steepest) return ['No axis has a curve.'];
  const perMin = Math.abs(steepest.tempco_dps_per_c.value) * 60;
  const [low, high] = curve.range_c;
  const beyond = limits && (limits.band_low_c < low || limits.band_high_c > high) ? ' Dashed thin: beyond what was seen.' : '';
  return [element('b', '', signedTold(steepest.tempco_dps_per_c, UNIT, 4)), ` on ${steepest.axis} at ${number(curve.operating_c, 1)} °C, the steepest: one degree off costs `,
    `${number(perMin, 1)}° of heading a minute. Points: still half-minutes, open while warming or steady, filled while cooling. `,
    `${branches(curve)} Band: 95 %.${beyond}${curve.note ? ` ${sentence(pretty(curve.note))}.` : ''}`];
}

function branches({ axes }) {
  const found = axes.map((a) => a.hysteresis_dps).filter(known);
  if (!found.length) return `Warming against cooling: ${pretty(axes[0].hysteresis_dps?.reason ?? 'not known')}.`;
  const worst = Math.max(...found.map((e) => Math.abs(e.value)));
  return `Both branches agree within ${number(worst, 4)} °/s.`;
}

function table(curve) {
  const columns = [{ name: 'axis' }, { name: 'what' }, { name: 'temperature', unit: '°C' }, { name: 'bias', unit: '°/s' }, { name: 'low, 95 %', unit: '°/s' }, { name: 'high, 95 %', unit: '°/s' }];
  const rows = curve.axes.flatMap((a) => [
    [a.axis, 'coefficient, °/s per °C', curve.operating_c, a.tempco_dps_per_c.value, a.tempco_dps_per_c.low ?? null, a.tempco_dps_per_c.high ?? null],
    ...a.bands.map((p) => [a.axis, p.extrapolated ? 'curve, extrapolated' : 'curve', p.temperature_c, p.bias_dps, p.confidence_low_dps, p.confidence_high_dps]),
    ...a.measured.map((p) => [a.axis, `measured, ${p.branch}`, p.temperature_c, p.bias_dps, null, null]),
  ]);
  return { columns, rows };
}

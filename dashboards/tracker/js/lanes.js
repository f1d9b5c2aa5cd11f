// What each lane of the story shows.
import { band, box, level, line } from '../../charts/layers.js';
import { AXES } from '../../charts/paint.js';
import { roomy } from '../../charts/scale.js';
import { numberLabels } from '../../charts/ticks.js';
import { element } from '../../js/nodes.js';
import { age, clockWithSeconds, day, number, sameDay, signed } from '../../js/words.js';
import { newest } from './columns.js';
import { flags } from './flags.js';
import { future, ribbon, stateAt } from './ribbon.js';

const LEAST_SPAN_C = 4;
const LEAST_SPAN_DPS = 0.02;

const state = {
  key: 'states', name: 'State', unit: '', height: 44,
  range: () => [0, 1],
  layers: (soak) => [ribbon(soak)],
  value: (soak, { t }, i) => (i === null ? sinceWords(soak) : [element('b', '', stateAt(soak, t[i])), ' ', element('small', '', moment(t[i]))]),
};

const temperature = {
  key: 'temperature', name: 'Temperature', unit: '°C', height: 178, labels: numberLabels,
  range: ({ limits, warmUp }, { c }) => roomy([...c.low, ...c.high, limits?.band_low_c, limits?.band_high_c, warmUp?.plateau_c?.high], LEAST_SPAN_C, 0.05),
  layers: (soak, { t, c }) => [
    future(soak),
    ...bandLayers(soak),
    band(t, c.low, c.high, { fill: '--ink', alpha: 0.25 }),
    ...courseLayers(soak.warmUp?.course ?? []),
    line(t, c.mean, { stroke: '--ink', width: 1.4 }),
  ],
  value(soak, { t, c }, i) {
    const { temperature_c: now, temperature_rate_c_per_min: rate } = (i === null && soak.readiness) || {};
    const value = now ?? (i === null ? newest(c.mean) : c.mean[i]);
    if (value === null) return '';
    return [element('b', '', `${number(value, 1)} °C`), ' ', element('small', '', typeof rate === 'number' ? `${signed(rate, 2)} °C/min` : '')];
  },
};

function bandLayers({ limits }) {
  if (!limits) return [];
  const { band_low_c: low, band_high_c: high, use_temperature_c: use, hot_c: hot } = limits;
  return [box(null, null, low, high, { stroke: '--rule' }), inBand(low, high), level(hot, `hot ${number(hot, 0)} °C`, { stroke: '--hot', dash: [4, 3] }), level(use, '', { stroke: '--soft', dash: [1, 4] }),
    (pen, frame) => pen.text(frame.left + 5, frame.y(use) + 16, `use ${number(use, 0)} °C`, { fill: '--soft' })];
}

/** At the left the curve is far below. */
function inBand(low, high) {
  return (pen, frame) => pen.text(frame.left + 6, frame.y(high) + 16, `band ${number(low, 0)} to ${number(high, 0)} °C`, { fill: '--soft' });
}

/** The model thin over the readings, its forecast dashed in its band. */
function courseLayers(course) {
  const xs = course.map((p) => Date.parse(p.time) / 1000);
  const pick = (name, forecast) => course.map((p) => (p.forecast === forecast ? p[name] : null));
  return [band(xs, pick('confidence_low_c', true), pick('confidence_high_c', true), { fill: '--warming', alpha: 0.3 }),
    line(xs, pick('temperature_c', false), { stroke: '--warming', width: 1 }),
    line(xs, pick('temperature_c', true), { stroke: '--warming', width: 1.4, dash: [5, 4] })];
}

function bias({ name, colour, dash }, axis) {
  return {
    key: `bias bias-${name}`, name: `Bias ${name}`, unit: '°/s', height: 74, labels: numberLabels,
    range: (soak, { gyro }) => roomy([...gyro[axis].low, ...gyro[axis].high], LEAST_SPAN_DPS),
    layers: (soak, { t, gyro }) => [future(soak), band(t, gyro[axis].low, gyro[axis].high, { fill: colour, alpha: 0.22 }),
      line(t, gyro[axis].mean, { stroke: colour, width: 1.5, dash })],
    value(soak, { t, gyro }, i) {
      const value = i === null ? soak.readiness?.bias_dps?.[axis] ?? newest(gyro[axis].mean) : gyro[axis].mean[i];
      if (value === null) return i === null ? 'never still' : 'moved';
      return [element('b', '', `${signed(value, 3)} °/s`), ' ', element('small', '', i === null ? 'newest, still' : '')];
    },
  };
}

const motion = {
  key: 'motion', name: 'Motion', unit: 'spread, °/s', height: 58, labels: (splits) => numberLabels(splits).map((text, i) => (i === 0 || i === splits.length - 1 ? text : '')),
  range: (soak, { sd }) => [0, Math.max(1, ...sd.filter((v) => v !== null))],
  layers: (soak, { t, sd }) => [future(soak), band(t, sd.map((v) => (v === null ? null : 0)), sd, { fill: '--disturbed', stroke: '--disturbed', alpha: 0.85 })],
  value(soak, { t, sd }, i) {
    if (i !== null) return sd[i] === null ? '' : [element('b', '', `${number(sd[i], 3)} °/s`)];
    const still = soak.readiness?.conditions.find((c) => c.name === 'still');
    if (typeof still?.value !== 'number') return '';
    return [element('b', '', still.met ? `still ${age(still.value)}` : 'moved'), ' ', element('small', '', '')];
  },
};

const marks = {
  key: 'marks', name: 'Marks', unit: 'told and seen', height: 88, clock: true,
  range: () => [0, 1],
  layers: (soak, columns) => [future(soak), flags(soak, columns)],
  value: () => '',
};

export const LANES = [state, temperature, ...AXES.map(bias), motion, marks];

function sinceWords({ readiness, timeline, soak }) {
  if (!readiness) return [element('b', '', 'ended'), ' ', element('small', '', moment(Date.parse(soak.end) / 1000))];
  const since = readiness.since ?? timeline.at(-1)?.time;
  return since ? [element('small', '', `since ${moment(Date.parse(since) / 1000)}`)] : '';
}

function moment(s) {
  return sameDay(s * 1000, Date.now()) ? clockWithSeconds(s * 1000) : `${day(s * 1000)} ${clockWithSeconds(s * 1000)}`;
}

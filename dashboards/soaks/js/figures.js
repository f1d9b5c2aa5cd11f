// Figures of soaks beside each other: a row a figure, a column a soak.
import { element } from '../../js/nodes.js';
import { age, number, pretty } from '../../js/words.js';
import { link, table } from '../../shared/parts.js';
import { endedWords, pageOf, reportOf } from '../../shared/soak.js';
import { length, moment } from '../../shared/times.js';

const AXES = ['x', 'y', 'z'];
// Further ones say nothing to anybody, however narrow the interval.
const MOST_DECIMALS = { '°C': 2, s: 1 };

const ROWS = [
  ['began', (s) => moment(s.soak.start)],
  ['lasted', (s) => `${length(s.soak.start, s.soak.end)}, ${endedWords(s.soak)}`],
  ['lot', (s) => s.soak.lot || '–'],
  ['in the tracker’s figures', (s) => (s.soak.left_out ? [element('b', '', 'left out'), `: ${s.soak.left_out}`] : 'counts')],
  ['first ready', (s) => (s.readyS === null ? 'never' : `after ${age(s.readyS)}`)],
  ['start', (s) => estimate(s.warmUp?.start_c, '°C')],
  ['levels off at', (s) => estimate(s.warmUp?.plateau_c, '°C')],
  ['time constants', (s) => constants(s.warmUp)],
  ...AXES.map((axis, i) => [`coefficient of ${axis}`, (s) => estimate(s.curve?.axes?.[i]?.tempco_dps_per_c, '°/s per °C', s.curve)]),
  ...AXES.map((axis, i) => [`white noise of ${axis}`, (s) => estimate(s.noise?.axes?.[i]?.angle_random_walk_deg_per_sqrt_h, '°/√h', s.noise)]),
];

/** The table. Entries are {soak, name, readyS, warmUp, curve, noise}; a part that the service has not is null. */
export function figures(entries) {
  return table('Figures of the soaks beside each other', [
    { head: 'figure', cell: ([name]) => element('span', 'quiet', name) },
    ...entries.map((entry) => ({ head: entry.name, cell: ([, value]) => value(entry) })),
  ], [...ROWS, ['', (s) => element('span', 'soak-acts', link(reportOf(s.soak.soak), 'Report'), link(pageOf(s.soak), 'Tracker'))]]);
}

function constants(warmUp) {
  if (!warmUp) return '–';
  if (warmUp.prior_only) return reason('this soak does not show it');
  return warmUp.time_constants_s.length ? warmUp.time_constants_s.flatMap((e, i) => [i ? ' and ' : '', estimate(e, 's')]) : reason(warmUp.reason);
}

/** "30.42 °C (30.38 to 30.46)", or why there is none. */
function estimate(e, unit, whole) {
  if (!e || e.value === null) return reason(e?.reason ?? whole?.reason);
  const places = Math.min(MOST_DECIMALS[unit] ?? 4, decimals(e));
  return element('span', '', element('b', '', number(e.value, places)), ` ${unit} `, element('span', 'quiet', `(${number(e.low, places)} to ${number(e.high, places)})`));
}

/** As many as tell the interval's width with two figures. */
function decimals({ low, high, se }) {
  const half = Number.isFinite(high - low) ? (high - low) / 2 : se;
  return half > 0 ? Math.max(0, 1 - Math.floor(Math.log10(half))) : 3;
}

function reason(words) {
  return element('span', 'quiet why', words ? `not known: ${pretty(words)}` : '–');
}

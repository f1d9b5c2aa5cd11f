// Allan deviation on log axes, with what is read off it.
import { Chart } from '../../charts/chart.js';
import { Figure } from '../../charts/figure.js';
import { intervals, line, points, upright, words as wordsAt } from '../../charts/layers.js';
import { AXES } from '../../charts/paint.js';
import { logLabels } from '../../charts/ticks.js';
import { element, setParts } from '../../js/nodes.js';
import { pretty, sentence } from '../../js/words.js';
import { known, told } from './estimate.js';

const PER_H = 60;
const AXES_WORDS = 'Allan deviation, °/s, against averaging time, s';
const LETTER_PX = 13;

export class NoisePart {
  #figure = new Figure('noise', 'Noise', { className: 'half', table: () => table(this.#noise), pictures: () => [{ svg: this.#chart.svg(), words: AXES_WORDS }] });
  #chart;
  #drawing = element('div', 'panel-chart');
  #read = element('div', 'read-off');
  #noise = null;

  constructor(place) {
    place.append(this.#figure.node);
    this.#drawing.setAttribute('role', 'img');
    this.#drawing.setAttribute('aria-label', 'Allan deviation: not drawn yet');
    this.#figure.body.append(element('p', 'axis-name', AXES_WORDS), this.#drawing, this.#read);
    this.#chart = new Chart(this.#drawing, { height: 290, x: { log: true, labels: logLabels, size: 30 }, y: { log: true, labels: logLabels, size: 56 }, right: 8 });
    this.#figure.wait();
  }

  async show(noise, file) {
    this.#noise = noise;
    this.#figure.say([words(noise)], file);
    this.#figure.body.hidden = Boolean(noise.reason);
    if (noise.reason) return;
    setParts(this.#read, [readOff(noise)]);
    this.#drawing.setAttribute('aria-label', `Allan deviation of three axes; ${words(noise)}`);
    await this.#chart.show(picture(noise));
  }
}

/** What a chart shows of it. */
export function picture(noise) {
  const all = noise.axes.flatMap((a) => [...a.adev_low_dps, ...a.adev_high_dps]).filter((v) => v > 0);
  const taus = noise.axes.flatMap((a) => a.tau_s);
  return { x: [Math.min(...taus) / 1.4, Math.max(...taus) * 1.3], y: [Math.min(...all) / 1.3, Math.max(...all) * 1.5], xs: noise.axes[0].tau_s, layers: layers(noise) };
}

function layers({ axes }) {
  const out = [upright(1, '1 s', { stroke: '--soft', dash: [1, 4] })];
  axes.forEach((a, i) => {
    const { colour, dash, marker } = AXES[i];
    out.push(intervals(a.tau_s, a.adev_low_dps, a.adev_high_dps, { stroke: colour, width: 1, alpha: 0.6 }),
      line(a.tau_s, a.adev_dps, { stroke: colour, width: 1.5, dash }), points(a.tau_s, a.adev_dps, { marker, colour, hollow: () => true }));
  });
  out.push(names(axes));
  const n = axes[0].angle_random_walk_deg_per_sqrt_h;
  if (known(n)) {
    const ends = [0.25, 30];
    out.push(line(ends, ends.map((s) => 1.25 * n.value / PER_H / Math.sqrt(s)), { stroke: '--soft', dash: [2, 3] }));
    out.push(wordsAt(6, 1.25 * n.value / PER_H / Math.sqrt(6), 'slope −½: white', { fill: '--soft' }, 8, -6));
  }
  return out;
}

/** The axes' letters before their first points, one below another where those are close. */
function names(axes) {
  return (pen, frame) => {
    const order = axes.map((a, i) => ({ y: frame.y(a.adev_dps[0]), x: frame.x(a.tau_s[0]), i })).filter((n) => Number.isFinite(n.y)).sort((a, b) => a.y - b.y);
    order.forEach((n, k) => { if (k) n.y = Math.max(n.y, order[k - 1].y + LETTER_PX); });
    for (const { x, y, i } of order) pen.text(x - 8, y + 2, AXES[i].name, { fill: AXES[i].colour, bold: true, align: 'right' });
  };
}

export const FIGURES = [['N', 'angle_random_walk_deg_per_sqrt_h', '°/√h', 3], ['B', 'bias_instability_deg_per_h', '°/h', 1], ['K', 'rate_random_walk_dps_per_sqrt_s', '°/s/√s', 6]];

function readOff({ axes }) {
  const head = element('tr', '', ...['', ...FIGURES.map(([name, , unit]) => `${name}, ${unit}`)].map((text) => th(text)));
  const rows = axes.map((a) => element('tr', '', th(a.axis), ...FIGURES.map(([, key, , decimals]) => element('td', '', cell(a[key], decimals)))));
  return element('table', 'figures-table', element('caption', 'unseen', 'Read off the Allan deviation'), element('thead', '', head), element('tbody', '', ...rows));
}

function th(text) {
  const node = element('th', '', text);
  node.scope = 'col';
  return node;
}

/** The reason stands in the table to be copied; here there is no room for it. */
function cell(estimate, decimals) {
  return known(estimate) ? told(estimate, '', decimals) : 'not resolved';
}

function words(noise) {
  if (noise.reason) return `${sentence(pretty(noise.reason))}.`;
  const unknown = FIGURES.filter(([, key]) => noise.axes.every((a) => !known(a[key])));
  const why = unknown.length ? ` ${unknown.map(([name]) => name).join(' and ')} not resolved: ${pretty(noise.axes[0][unknown[0][1]].reason)}.` : '';
  const noted = noise.axes.filter((a) => a.note);
  const aside = noted.length ? ` Axis ${noted.map((a) => a.axis).join(', ')}: ${pretty(noted[0].note)}.` : '';
  return `N is white noise, B the floor, K the slow walk; ${Math.round(noise.sample_rate_hz * 10) / 10} samples a second.${why}${aside}`;
}

function table({ axes }) {
  const columns = [{ name: 'axis' }, { name: 'figure' }, { name: 'averaging time', unit: 's' }, { name: 'value' }, { name: 'low, 95 %' }, { name: 'high, 95 %' }, { name: 'unit' }, { name: 'note' }];
  const rows = axes.flatMap((a) => [
    ...FIGURES.map(([name, key, unit]) => [a.axis, name, null, a[key].value, a[key].low ?? null, a[key].high ?? null, unit, pretty(a[key].reason ?? (name === 'N' ? a.note : null))]),
    ...a.tau_s.map((s, i) => [a.axis, 'Allan deviation', s, a.adev_dps[i], a.adev_low_dps[i], a.adev_high_dps[i], '°/s', '']),
  ]);
  return { columns, rows };
}

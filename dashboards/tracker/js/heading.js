// What a calibration now costs in use: heading error over the minutes, and how long it may lie in the open.
import { Chart } from '../../charts/chart.js';
import { Figure } from '../../charts/figure.js';
import { band, dot, level, line, words as wordsAt } from '../../charts/layers.js';
import { numberLabels } from '../../charts/ticks.js';
import { element, setParts } from '../../js/nodes.js';
import { number, pretty, sentence } from '../../js/words.js';
import { FIGURE_COLUMNS, known, minuteDecimals, row, told } from './estimate.js';

const AXES_WORDS = 'Heading error, °, against minutes of use';
const LIMIT_DEG = 5;
const TOP_DEG = 10;
const LONGEST_MIN = 120;
const STEPS = 24;

export class HeadingPart {
  #figure = new Figure('heading', 'Heading', { className: 'half', table: () => table(this.#heading, this.#unwrapped), pictures: () => (this.#drawing.hidden ? [] : [{ svg: this.#chart.svg(), words: AXES_WORDS }]) });
  #drawing = element('div', 'panel-chart');
  #read = element('div', 'read-off');
  #chart;
  #heading = null;
  #unwrapped = null;

  constructor(place) {
    place.append(this.#figure.node);
    this.#drawing.setAttribute('role', 'img');
    this.#drawing.setAttribute('aria-label', 'Heading error: not drawn yet');
    this.#figure.body.append(element('p', 'axis-name', AXES_WORDS), this.#drawing, this.#read);
    this.#chart = new Chart(this.#drawing, { height: 290, x: { labels: numberLabels, size: 30 }, y: { labels: numberLabels, size: 46 }, right: 18 });
    this.#figure.wait();
  }

  /** {@code unwrapped} is what the verdict says of lying in the open, or nothing. */
  async show(heading, unwrapped, file) {
    this.#heading = heading;
    this.#unwrapped = unwrapped ?? null;
    this.#figure.say(words(heading), file);
    this.#figure.body.hidden = false;
    setParts(this.#read, [readOff(heading, this.#unwrapped)]);
    this.#drawing.hidden = !known(heading.deg_per_min);
    this.#drawing.previousElementSibling.hidden = this.#drawing.hidden;
    if (this.#drawing.hidden) return;
    this.#drawing.setAttribute('aria-label', words(heading).map((p) => p.textContent ?? p).join(''));
    await this.#chart.show(picture(heading));
  }
}

function picture({ deg_per_min: rate, minutes_to_5_deg: minutes }) {
  const size = Math.abs(rate.value);
  const half = (rate.high - rate.low) / 2;
  const until = Math.min(LONGEST_MIN, Math.max(5, TOP_DEG / Math.max(size, 0.01)));
  const xs = Array.from({ length: STEPS + 1 }, (_, i) => until * i / STEPS);
  const at = (degPerMin) => xs.map((m) => Math.max(0, degPerMin) * m);
  return {
    x: [0, until], y: [0, TOP_DEG], xs,
    layers: [
      band(xs, at(size - half), at(size + half), { fill: '--ready', alpha: 0.2 }),
      line(xs, at(size), { stroke: '--ready', width: 2 }),
      level(LIMIT_DEG, '5°', { stroke: '--ink', width: 2, dash: [4, 3] }),
      ...(known(minutes) && minutes.value < until ? [(pen, frame) => dot(pen, frame.x(minutes.value), frame.y(LIMIT_DEG), 'disc', { fill: '--ready', stroke: '--paper', width: 1.5 }),
        wordsAt(minutes.value, LIMIT_DEG, `${number(minutes.value, 1)} min`, { fill: '--ink', bold: true }, 8, 20)] : []),
    ],
  };
}

function words({ calibrated_c: from, use_c: use, deg_per_min: rate, minutes_to_5_deg: minutes, note }) {
  const what = `Calibrated at ${from === null ? 'an unknown temperature' : `${number(from, 1)} °C`}${use === null ? '' : ` and used at ${number(use, 1)} °C`}`;
  if (!known(rate)) return [`${what}: ${pretty(rate.reason)}.`];
  const errs = known(minutes) ? [' it errs by 5° after ', element('b', '', told(minutes, 'min', minuteDecimals(minutes.value)))] : [' it errs by ', element('b', '', told(rate, '°/min', 2))];
  return [what, ...errs, '.', note ? ` ${sentence(pretty(note))}.` : ''];
}

function rows(heading, unwrapped) {
  const out = [row('rate error, worst axis', heading.deg_per_min, '°/min'), row('minutes to 5°', heading.minutes_to_5_deg, 'min'),
    ...heading.axes.map((a) => row(`rate error, ${a.axis}`, a.deg_per_min, '°/min'))];
  if (unwrapped) out.push(row('opened, its bias holds for', unwrapped.time_s, 's', unwrapped.source ? `from the cooling of ${unwrapped.source}` : ''));
  return out;
}

function table(heading, unwrapped) {
  return { columns: FIGURE_COLUMNS, rows: rows(heading, unwrapped) };
}

function readOff(heading, unwrapped) {
  const shown = [['Rate error in use', heading.deg_per_min, '°/min', 2], ['Minutes to 5°', heading.minutes_to_5_deg, 'min', minuteDecimals(heading.minutes_to_5_deg.value)]];
  if (unwrapped) shown.push(['Opened: bias holds for', unwrapped.time_s, 's', 0]);
  return element('dl', 'read', ...shown.flatMap(([name, e, unit, decimals]) => [element('dt', '', name), element('dd', '', ...value(e, unit, decimals))]));
}

function value(estimate, unit, decimals) {
  if (!known(estimate)) return [sentence(pretty(estimate?.reason ?? 'not known'))];
  const range = typeof estimate.low === 'number' && typeof estimate.high === 'number' ? ` ${number(estimate.low, decimals)} to ${number(estimate.high, decimals)}` : '';
  return [element('b', '', number(estimate.value, decimals)), ` ${unit}`, element('small', '', range)];
}

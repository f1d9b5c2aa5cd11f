// Checks after calibrations over time: what was left on the worst axis, against what is allowed.
import { bars } from '../../charts/bars.js';
import { Figure } from '../../charts/figure.js';
import { outcome } from '../../js/calibrated.js';
import { element, setParts } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { clock, day, number, pretty } from '../../js/words.js';
import { known, told } from './estimate.js';

const MOST = 12;
const WORDS = { keep: 'keep', do_again: 'do again', unknown: 'not known', checking: 'no check', question: 'not answered', undone: 'no calibration' };

export class ChecksPart {
  #figure = new Figure('checks', 'Checks after calibrations', { className: 'half', table: () => table(this.#marks), pictures: () => [{ svg: bars(this.#shown.map((mark) => picture(mark, this.#scale))), words: words(this.#marks, this.#scale) }] });
  #list = element('ul', 'conditions checks');
  #marks = [];
  #shown = [];
  #scale = { limit: null, top: 1 };

  constructor(place) {
    this.#list.setAttribute('role', 'list');
    this.#figure.body.append(this.#list);
    place.append(this.#figure.node);
  }

  /** Marks, the newest first. */
  show(marks, file) {
    this.#marks = marks;
    const shown = marks.slice(0, MOST).reverse();
    this.#shown = shown;
    const limit = marks.find((m) => m.check)?.check.limit_deg_per_min ?? null;
    const top = Math.max(2 * (limit ?? 1), ...shown.map((m) => size(m.check?.deg_per_min)?.high ?? 0));
    this.#scale = { limit, top };
    setParts(this.#list, shown.map((mark) => row(mark, this.#scale)));
    this.#figure.say([words(marks, this.#scale)], file);
  }
}

/** Without its sign, which would have to be explained. */
function size(estimate) {
  if (!known(estimate)) return null;
  const value = Math.abs(estimate.value);
  const half = (estimate.high - estimate.low) / 2;
  return { value, low: Math.max(0, value - half), high: value + half };
}

function figuresOf(mark) {
  const left = size(mark.check?.deg_per_min);
  return left ? told(left, '°/min', 1) : mark.check ? 'not known' : '';
}

function picture(mark, { limit, top }) {
  const left = size(mark.check?.deg_per_min);
  const at = Date.parse(mark.at);
  const what = outcome(mark);
  return {
    name: `${day(at)} ${clock(at)}`, limit: limit ? limit / top : null, interval: left ? [left.low / top, left.high / top] : null, value: null,
    point: left ? left.value / top : null, figures: figuresOf(mark), verdict: WORDS[what], bad: what === 'do_again',
  };
}

function row(mark, { limit, top }) {
  const at = Date.parse(mark.at);
  const left = size(mark.check?.deg_per_min);
  const what = outcome(mark);
  const bar = element('span', 'bar');
  if (limit) bar.append(piece('limit', limit / top));
  if (left) bar.append(piece('interval', left.low / top, left.high / top), piece('point', left.value / top));
  const c = typeof mark.temperature_c === 'number' ? `at ${number(mark.temperature_c, 1)} °C` : '';
  const verdict = element('span', 'met', shape(what), ` ${WORDS[what]}`);
  verdict.title = pretty(mark.check?.reason ?? mark.check_reason ?? '');
  if (what === 'do_again') verdict.classList.add('not');
  else if (what !== 'keep') verdict.classList.add('open');
  const when = element('span', 'what', day(at), ' ', element('small', '', clock(at)));
  return element('li', '', when, bar, element('span', 'figures', figuresOf(mark), ' ', element('small', '', c)), verdict);
}

function piece(name, from, to = null) {
  const node = element('i', name);
  node.style.left = `${Math.min(1, from) * 100}%`;
  if (to !== null) node.style.width = `max(3px, ${(Math.min(1, to) - Math.min(1, from)) * 100}%)`;
  return node;
}

function words(marks, { limit, top }) {
  if (!marks.length) return 'No calibration of it is known yet. “Calibrated now” tells one; one that is seen is found by itself.';
  const more = marks.length > MOST ? ` The newest ${MOST} of ${marks.length}.` : '';
  return limit ? `Rate left on the worst axis, 0 to ${number(top, 1)} °/min; dashed: the limit ${number(limit, 1)} °/min.${more}` : `No check has been made yet.${more}`;
}

function table(marks) {
  const names = ['time', 'verdict', 'left, worst axis (°/min)', 'low, 95 %', 'high, 95 %', 'limit (°/min)', 'temperature (°C)', 'in the open (s)', 'reason'];
  return {
    columns: names.map((name) => ({ name })),
    rows: marks.map((m) => [m.at, WORDS[outcome(m)], m.check?.deg_per_min.value ?? null, m.check?.deg_per_min.low ?? null, m.check?.deg_per_min.high ?? null,
      m.check?.limit_deg_per_min ?? null, m.temperature_c, m.open_s, pretty(m.check?.reason ?? m.check_reason)]),
  };
}

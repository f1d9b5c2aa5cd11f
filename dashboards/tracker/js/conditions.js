// Why it is ready or not: a bar for each condition, with its limit at one place in all rows.
import { bars } from '../../charts/bars.js';
import { Figure } from '../../charts/figure.js';
import { figures, label as noun } from '../../js/condition.js';
import { element, setParts } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { unit } from '../../js/words.js';

// Where the limit stands, of the bar's width.
const LIMIT_AT = 0.66;
const WORDS = new Map([[true, ['keep', 'met']], [false, ['undone', 'not met']], [null, ['unknown', 'not known']]]);

// As what is met or not; the board names what is waited for.
const MET = {
  heard: 'heard without gaps', still: 'lies still', operating_band: 'in the band', near_use: 'near use',
  temperature_settled: 'temperature settled', shift: 'bias settled', dwell: 'held long enough', not_hot: 'not hot',
};

/** How much of its limit a value uses up: 1 is all of it, less is good; null where it can't be told. */
export function used(value, { limit_low: low, limit_high: high }) {
  if (typeof value !== 'number') return null;
  const [hasLow, hasHigh] = [typeof low === 'number', typeof high === 'number'];
  if (hasLow && hasHigh) return Math.abs(value - (low + high) / 2) / ((high - low) / 2);
  if (hasHigh) return Math.max(0, value) / high;
  // At least so much is needed: half of it had is twice the limit.
  return hasLow ? low / Math.max(value, low / 1000) : null;
}

export class Conditions {
  #figure = new Figure('conditions', 'What ready means here', { table: () => table(this.#readiness), pictures: () => [{ svg: bars(this.#readiness.conditions.map(picture)), words: 'Bars run towards the limit, dashed; pale: 95 % interval' }] });
  #list = element('ul', 'conditions');
  #readiness = null;

  constructor(place) {
    this.#list.setAttribute('role', 'list');
    this.#figure.body.append(this.#list);
    place.append(this.#figure.node);
  }

  /** The verdict's; nothing is shown without one: conditions are only judged while it soaks. */
  show(readiness) {
    this.#figure.node.hidden = !readiness?.conditions?.length;
    if (this.#figure.node.hidden) return;
    this.#readiness = readiness;
    setParts(this.#list, readiness.conditions.map(row));
    const open = readiness.conditions.filter((c) => c.met !== true && !told(c)).length;
    const all = open ? `${open} of ${readiness.conditions.length} not met` : 'All met';
    this.#figure.say([`${all}. Each bar runs towards its limit, the dashed line: left of it is good in every row. Pale: 95 % interval.`], readiness.tracker);
  }
}

function row(condition) {
  const [sign, word] = outcome(condition);
  const verdict = element('span', 'met', shape(sign), ` ${word}`);
  if (condition.met === false) verdict.classList.add('not');
  if (told(condition) || condition.met === null) verdict.classList.add('open');
  return element('li', '', element('span', 'what', label(condition)), bar(condition), element('span', 'figures', figures(condition)), verdict);
}

function label(condition) {
  return MET[condition.name] ?? noun(condition);
}

/** Its shape and its word. */
function outcome(condition) {
  return told(condition) ? ['checking', 'told only'] : WORDS.get(condition.met ?? null);
}

/** What its bar shows, in shares of its width: each null where there is none. */
function shares(condition) {
  const [value, low, high] = [condition.value, condition.low, condition.high].map((v) => used(v, condition));
  const ends = [low ?? value, high ?? value, value];
  // An interval about nothing reaches as far as its farther end.
  const about = condition.low < 0 && condition.high > 0 && condition.limit_low === -condition.limit_high;
  const of = (from, to) => [from, to].map((share) => Math.min(1, share * LIMIT_AT));
  return {
    interval: value === null || low === null ? null : of(about ? 0 : Math.min(...ends), Math.max(...ends)),
    value: value === null ? null : of(0, value),
    limit: value !== null || condition.limit_high !== null || condition.limit_low !== null ? LIMIT_AT : null,
  };
}

function picture(condition) {
  return { ...shares(condition), point: null, name: label(condition), figures: figures(condition), verdict: outcome(condition)[1], bad: condition.met === false };
}

function bar(condition) {
  const { interval, value, limit } = shares(condition);
  const parts = [];
  if (interval) parts.push(piece('interval', interval));
  if (value) parts.push(piece('value', value));
  if (limit !== null) parts.push(element('i', 'limit'));
  return element('span', 'bar', ...parts);
}

function piece(name, [from, to]) {
  const node = element('i', name);
  node.style.left = `${from * 100}%`;
  node.style.width = `max(3px, ${(to - from) * 100}%)`;
  return node;
}

/** Near use only warns, unless a limit was set for it. */
function told({ limit_low: low, limit_high: high }) {
  return low === null && high === null;
}

function table(readiness) {
  const names = ['condition', 'met', 'value', 'low, 95 %', 'high, 95 %', 'at least', 'at most', 'unit', 'reason'];
  return {
    columns: names.map((name) => ({ name })),
    rows: readiness.conditions.map((c) => [label(c), c.met === null ? 'not known' : c.met ? 'yes' : 'no', c.value, c.low, c.high, c.limit_low, c.limit_high, unit(c.unit), c.reason]),
  };
}

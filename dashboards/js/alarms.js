// The bar for what somebody must look at now: a shape and a word each, and a button that says it was seen.
import { element, flag, setParts, setText, time } from './nodes.js';
import { shape } from './shapes.js';
import { clock, pretty } from './words.js';

const MOST = 4;
const WORDS = {
  hot: 'Hot', fast_rise: 'Heating fast', heading_hot: 'Heading for hot', silent: 'Silent', spool_filling: 'Spool filling',
  reading_stopped: 'Reading stopped', database_away: 'Database away',
};

/** Shows the alarms given to it. {@code acknowledge(ids)} resolves to null, or to a sentence that says why not. */
export class AlarmBar {
  #place;
  #acknowledge;
  #rows = new Map();
  #more = element('p', 'alarm-more');
  #refused = element('p', 'alarm-refused');
  #all = element('button', 'alarm-all');
  #unseen = [];

  constructor(place, acknowledge) {
    this.#place = place;
    this.#acknowledge = acknowledge;
    this.#all.type = 'button';
    this.#all.addEventListener('click', () => this.#seen(this.#unseen));
  }

  /** Alarms that hold, and those that ended unseen. Rows that stay keep their nodes, so that a focused button stays focused. */
  show(alarms) {
    const first = [...alarms].sort((a, b) => rank(a) - rank(b)).slice(0, MOST);
    const rest = alarms.length - first.length;
    this.#unseen = alarms.filter((a) => !a.acknowledged).map((a) => a.id);
    const rows = new Map(first.map((a) => [a.id, this.#rows.get(a.id) ?? this.#row(a.id)]));
    this.#rows = rows;
    first.forEach((a) => fill(rows.get(a.id), a));
    setText(this.#more, rest > 0 ? `${rest} more ${rest === 1 ? 'alarm' : 'alarms'}` : '');
    setText(this.#all, `Seen, all ${this.#unseen.length}`);
    const nodes = [...rows.values()];
    if (rest > 0) nodes.push(this.#more);
    if (this.#unseen.length > 1) nodes.push(this.#all);
    if (this.#refused.textContent && alarms.length) nodes.push(this.#refused);
    place(this.#place, nodes);
  }

  #row(id) {
    const row = element('div', 'alarm', element('p', 'alarm-what'), element('p', 'alarm-why'));
    const button = element('button', '', 'Seen');
    button.type = 'button';
    button.addEventListener('click', () => this.#seen([id]));
    row.append(button);
    return row;
  }

  async #seen(ids) {
    const refusal = await this.#acknowledge(ids);
    setText(this.#refused, refusal ?? '');
    place(this.#place, [...this.#place.childNodes].filter((n) => n !== this.#refused).concat(refusal ? [this.#refused] : []));
  }
}

/** Brings the children into this order; those that stand right already are not touched. */
function place(parent, nodes) {
  [...parent.childNodes].filter((n) => !nodes.includes(n)).forEach((n) => n.remove());
  nodes.forEach((n, i) => { if (parent.childNodes[i] !== n) parent.insertBefore(n, parent.childNodes[i] ?? null); });
}

function rank({ severity, until, acknowledged }) {
  return (acknowledged ? 4 : 0) + (until ? 2 : 0) + (severity === 'severe' ? 0 : 1);
}

function fill(row, alarm) {
  const { kind, severity, name, slot, message, advice, since, until, acknowledged, acknowledged_by: by } = alarm;
  const [what, why, button] = row.children;
  flag(row, 'data-severe', severity === 'severe' && !until);
  flag(row, 'data-seen', acknowledged);
  flag(row, 'data-over', until);
  const whom = name ? `: ${name}${slot ? `, slot ${slot}` : ''}` : '';
  setParts(what, [shape(severity === 'severe' ? 'hot' : 'undecided'), ` ${WORDS[kind] ?? kind}${whom}`]);
  const when = [' Since ', moment(since)];
  if (until) when.push(', over at ', moment(until));
  if (acknowledged) when.push(', seen ', moment(acknowledged), by ? ` by ${by}` : '');
  setParts(why, [pretty(`${message} ${until ? '' : advice}`.trim()), ...when, '.']);
  button.hidden = Boolean(acknowledged);
  const label = `Seen: ${WORDS[kind] ?? kind}${whom}`;
  if (button.getAttribute('aria-label') !== label) button.setAttribute('aria-label', label);
}

function moment(text) {
  const ms = Date.parse(text);
  return time(ms, clock(ms));
}

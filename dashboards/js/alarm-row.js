// One alarm, or all of heat of one tracker, in words, with the buttons that answer it.
import { element, flag, setAttributes, setParts, time } from './nodes.js';
import { shape } from './shapes.js';
import { clock, pretty, sentence } from './words.js';

const WORDS = {
  hot: 'Hot', fast_rise: 'Heating fast', heading_hot: 'Heading for hot', silent: 'Silent', rack_silent: 'Silent together',
  spool_filling: 'Spool filling', room_low: 'Disk filling', reading_stopped: 'Reading stopped', database_away: 'Database away',
};
const HEAT = ['hot', 'fast_rise', 'heading_hot'];

/** Whether it is about heat: it goes before all others. */
export function isHeat({ kind }) {
  return HEAT.includes(kind);
}

/** Of several of one tracker the one to tell: what holds first, and of these the worst. */
export function leading(alarms) {
  return [...alarms].sort((a, b) => Boolean(a.until) - Boolean(b.until) || HEAT.indexOf(a.kind) - HEAT.indexOf(b.kind))[0];
}

/** "Hot: Holly, slot S3", or "Silent together: rack A". */
export function title({ kind, tracker, name, slot, rack }) {
  const whom = tracker ? `${name}${slot ? `, slot ${slot}` : ''}` : rackOf(kind, rack);
  return `${WORDS[kind] ?? kind}${whom && `: ${whom}`}`;
}

function rackOf(kind, rack) {
  if (kind !== 'rack_silent') return '';
  return rack ? `rack ${rack.replace(/^rack\s+/i, '')}` : 'trackers without a rack';
}

/** The shape beside it. */
export function picture({ kind, severity }) {
  return shape(severity === 'severe' ? 'hot' : kind === 'silent' ? 'silent' : 'undecided');
}

/** "12:03", or "12:03 to 12:10", as parts. */
export function span({ since, until }) {
  return until ? [moment(since), ' to ', moment(until)] : [moment(since)];
}

export function moment(text) {
  const ms = Date.parse(text);
  return time(ms, clock(ms));
}

/** What is wrong, without the id that a name stands for already. */
export function told({ tracker, message }) {
  const lead = `${tracker}: `;
  return sentence(pretty(tracker && message.startsWith(lead) ? message.slice(lead.length) : message));
}

/** A row whose buttons keep their nodes, so that a focused one stays focused. */
export class AlarmRow {
  #seen;
  #off;
  #what = element('p', 'alarm-what');
  #why = element('p', 'alarm-why');
  #alarms = [];
  /** The element to show. */
  node;

  /** {@code answer} is {seen(ids), takenOff(tracker)}. */
  constructor(name, answer) {
    this.#seen = button('Seen', () => answer.seen(this.#alarms.map((a) => a.id)));
    this.#off = button('Taken off', () => answer.takenOff(this.#alarms[0].tracker));
    this.node = element(name, 'alarm', this.#what, this.#why, element('p', 'alarm-acts', this.#off, this.#seen));
  }

  /** {@code soaks} says whether its soak can be ended by saying that it was taken off; {@code brief} leaves out the advice. */
  update(alarms, { soaks, brief }) {
    this.#alarms = alarms;
    const lead = leading(alarms);
    flag(this.node, 'data-severe', lead.severity === 'severe' && !lead.until && !lead.acknowledged);
    flag(this.node, 'data-over', lead.until);
    setParts(this.#what, [picture(lead), ` ${title(lead)}${lead.until ? ' (over)' : ''}`]);
    setParts(this.#why, why(lead, brief || lead.until));
    this.#button(this.#seen, !lead.acknowledged, `Seen: ${title(lead)}`);
    this.#button(this.#off, lead.kind === 'silent' && soaks, `Taken off: ${lead.name}`);
  }

  #button(node, on, name) {
    node.hidden = !on;
    setAttributes(node, { 'aria-label': name });
  }
}

function why(alarm, brief) {
  const { advice, until, acknowledged, acknowledged_by: by } = alarm;
  const when = until ? [' From ', ...span(alarm)] : [' Since ', ...span(alarm)];
  if (acknowledged) when.push(', seen ', moment(acknowledged), by ? ` by ${by}` : '');
  return [brief ? told(alarm) : `${told(alarm)} ${pretty(advice)}`, ...when, '.'];
}

/** A button of the bar. */
export function button(words, act) {
  const node = element('button', '', words);
  node.type = 'button';
  node.addEventListener('click', act);
  return node;
}

/** Brings the children into this order; those that stand right already are not touched. */
export function place(parent, nodes) {
  [...parent.childNodes].filter((n) => !nodes.includes(n)).forEach((n) => n.remove());
  nodes.forEach((n, i) => { if (parent.childNodes[i] !== n) parent.insertBefore(n, parent.childNodes[i] ?? null); });
}

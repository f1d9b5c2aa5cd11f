// What somebody must look at now: heat large, until somebody has seen it; all else on one line that opens.
import { AlarmRow, button, isHeat, leading, picture, place, title } from './alarm-row.js';
import { element, flag, setParts, setText } from './nodes.js';

// Further ones are counted: the board below is needed to see them.
const MOST_HEAT = 3;

/**
 * Shows the alarms given to it. {@code answer} is {seen(ids), takenOff(tracker), soaks(tracker), news(titles)}: the first two
 * resolve to null, or to a sentence that says why not; the third tells whether a tracker has an open soak, the last hears of
 * alarms that are new and not large: their line is not there until there is one, so readers of the page would not hear it.
 */
export class AlarmBar {
  #heat;
  #others;
  #answer;
  #alarms = [];
  #known = new Set();
  #rows = new Map();
  #more = element('p', 'alarm-more');
  #refused = element('p', 'alarm-refused');
  #line = element('span', 'others-line');
  #list = element('ul', '');
  #allHeat = button('', () => this.#seen(this.#unseen(true)));
  #allOthers = button('', () => this.#seen(this.#unseen(false)));

  /** Heat goes to one place, all else to another. */
  constructor(heatPlace, place, answer) {
    this.#answer = answer;
    this.#heat = element('div', '');
    this.#heat.id = 'heat';
    this.#heat.setAttribute('role', 'alert');
    // Else each new figure in one row has all rows read again.
    this.#heat.setAttribute('aria-atomic', 'false');
    this.#refused.setAttribute('role', 'alert');
    this.#list.setAttribute('role', 'list');
    this.#others = element('details', '', element('summary', '', this.#line), this.#list, element('p', 'alarm-all', this.#allOthers));
    this.#others.id = 'others';
    this.#others.hidden = true;
    heatPlace.append(this.#heat);
    place.append(this.#others, this.#refused);
  }

  /** Alarms that hold, and those of heat that ended unseen. */
  show(alarms) {
    this.#alarms = alarms;
    const focused = this.#heat.contains(document.activeElement) || this.#others.contains(document.activeElement);
    const heat = byTracker(alarms.filter(large));
    const others = alarms.filter((a) => !a.until && !large(a)).sort((a, b) => rank(a) - rank(b)).map((a) => [a]);
    const shown = heat.slice(0, MOST_HEAT);
    // What to do is the same for all that are hot: it is said once.
    const rows = new Map([...shown.map((group, i) => this.#row('div', `heat ${group[0].tracker}`, group, i > 0)),
      ...others.map((group) => this.#row('li', group[0].id, group, false))]);
    this.#rows = rows;
    this.#showHeat(shown, heat.slice(MOST_HEAT));
    this.#showOthers(others.map(([alarm]) => alarm));
    this.#tell(others.map(([alarm]) => alarm));
    if (!alarms.length) setText(this.#refused, '');
    if (focused) this.#keepFocus();
  }

  #tell(others) {
    const news = others.filter((a) => !a.acknowledged && !this.#known.has(a.id));
    this.#known = new Set(this.#alarms.map((a) => a.id));
    if (news.length) this.#answer.news(news.map(title));
  }

  /** A row that goes away must not take the keyboard's focus with it. */
  #keepFocus() {
    if (document.activeElement !== document.body && document.activeElement.checkVisibility()) return;
    const next = this.#heat.querySelector('button:not([hidden])') ?? (this.#others.hidden ? document.getElementById('trackers') : this.#others.firstElementChild);
    next.focus({ preventScroll: true });
  }

  #row(name, key, group, brief) {
    const row = this.#rows.get(key) ?? new AlarmRow(name, { seen: (ids) => this.#seen(ids), takenOff: (id) => this.#takenOff(id) });
    row.update(group, { soaks: this.#answer.soaks(group[0].tracker), brief });
    return [key, row];
  }

  #showHeat(shown, rest) {
    const nodes = shown.map((group) => this.#rows.get(`heat ${group[0].tracker}`).node);
    setText(this.#more, rest.length ? `And ${rest.length} more: ${rest.map((group) => title(leading(group))).join('; ')}` : '');
    setText(this.#allHeat, `Seen, all ${shown.length + rest.length}`);
    if (rest.length) nodes.push(this.#more);
    if (shown.length > 1) nodes.push(this.#allHeat);
    place(this.#heat, nodes);
  }

  #showOthers(alarms) {
    const severe = alarms.filter((a) => a.severity === 'severe' && !a.acknowledged);
    this.#others.hidden = !alarms.length;
    flag(this.#others, 'data-severe', severe.length);
    flag(this.#others, 'data-seen', alarms.every((a) => a.acknowledged));
    if (!alarms.length) return;
    const count = `${alarms.length} ${alarms.length === 1 ? 'alarm' : 'alarms'}`;
    setParts(this.#line, [picture(alarms[0]), element('b', '', count), ` ${alarms.map(title).join('; ')}`]);
    place(this.#list, alarms.map((a) => this.#rows.get(a.id).node));
    const unseen = this.#unseen(false).length;
    setText(this.#allOthers, `Seen, all ${unseen}`);
    this.#allOthers.parentElement.hidden = unseen < 2;
  }

  /** Ids of those that nobody has seen: of heat, or all others. */
  #unseen(ofHeat) {
    return this.#alarms.filter((a) => !a.acknowledged && large(a) === ofHeat).map((a) => a.id);
  }

  async #seen(ids) {
    setText(this.#refused, await this.#answer.seen(ids) ?? '');
  }

  async #takenOff(tracker) {
    setText(this.#refused, await this.#answer.takenOff(tracker) ?? '');
  }
}

/** Heat that nobody has seen; what was seen is known, and its tile is filled. */
function large(alarm) {
  return isHeat(alarm) && !alarm.acknowledged;
}

/** Lists of those of one tracker; who is hot now first, then in the order in which they came. */
function byTracker(alarms) {
  const groups = new Map();
  for (const alarm of alarms) groups.set(alarm.tracker, [...(groups.get(alarm.tracker) ?? []), alarm]);
  return [...groups.values()].sort((a, b) => Boolean(leading(a).until) - Boolean(leading(b).until));
}

function rank({ severity, acknowledged }) {
  return (acknowledged ? 2 : 0) + (severity === 'severe' ? 0 : 1);
}

// A dialog that lists the calibrations of one tracker with what their checks said, the newest first.
import { interval, outcome, verdict } from './calibrated.js';
import { checksChart } from './checks-chart.js';
import { told } from './moment.js';
import { element, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';
import { age, number } from './words.js';

const AXES = ['x', 'y', 'z'];
const ACTS = { mark: ['Undo', 'undo'], question: ['No', 'undo'], undone: ['It was one', 'tell'] };

/** Fills a dialog element; {@code marks} is where the calibrations are. */
export class Checks {
  #dialog;
  #marks;
  #view = null;
  #title = element('h2', '');
  #said = element('p', 'calibration-refused');
  #chart = element('div', '');
  #list = element('ol', 'checks');
  #csv = element('a', '', 'As a table (CSV)');

  constructor(dialog, marks) {
    this.#dialog = dialog;
    this.#marks = marks;
    this.#title.id = 'checks-title';
    this.#said.setAttribute('role', 'alert');
    const close = button('Close', () => dialog.close());
    const now = button('Calibrated now', () => this.#say(marks.tell(this.#view.id)));
    dialog.append(element('div', 'checks-head', this.#title, close), this.#said, this.#chart, this.#list,
      element('div', 'checks-foot', now, this.#csv));
  }

  /** Opens it on a tracker. */
  open(view) {
    this.#view = view;
    setText(this.#title, `Calibrations of ${view.name}`);
    this.#csv.href = `api/trackers/${encodeURIComponent(view.id)}/calibrations.csv`;
    setText(this.#said, '');
    this.#chart.replaceChildren();
    this.#list.replaceChildren();
    this.#dialog.showModal();
    this.#fill();
  }

  /** Reads the list again where it is open and one of these marks is of its tracker. */
  changed(marks) {
    if (this.#dialog.open && marks.some((mark) => mark.tracker === this.#view.id)) this.#fill();
  }

  async #say(answer) {
    const refusal = await answer;
    setText(this.#said, refusal ?? '');
    if (!refusal) this.#fill();
  }

  async #fill() {
    const { id } = this.#view;
    try {
      const marks = await this.#marks.all(id);
      if (id !== this.#view.id) return;
      const chart = checksChart(marks, this.#view.nowMs);
      setParts(this.#chart, chart ? [chart] : []);
      setParts(this.#list, marks.length ? marks.map((mark) => this.#entry(mark)) : [element('li', '', 'No calibration of it is known yet.')]);
    } catch (e) {
      setText(this.#said, `Not read: ${e.message}.`);
    }
  }

  #entry(mark) {
    const what = element('p', 'check-verdict', shape(outcome(mark)), ...verdict(mark));
    const entry = element('li', 'check', element('h3', '', ...when(mark, this.#view.nowMs)), what, figures(mark), this.#acts(mark));
    entry.dataset.at = mark.at;
    return entry;
  }

  #acts(mark) {
    const [words, act] = ACTS[mark.status];
    const one = (text, name) => {
      const b = button(text, () => this.#say(this.#marks[name](mark.tracker, mark.at)));
      b.setAttribute('aria-label', `${text}: ${mark.at}`);
      return b;
    };
    return element('div', 'check-acts', ...(mark.status === 'question' ? [one('Yes', 'tell')] : []), one(words, act));
  }
}

function when({ at, temperature_c: c, state_before: before }, nowMs) {
  const parts = [told(Date.parse(at), nowMs)];
  if (typeof c === 'number') parts.push(` at ${number(c, 1)} °C`);
  if (before) parts.push(`, ${before} before`);
  return parts;
}

function figures(mark) {
  const rows = [];
  const { check } = mark;
  // The reason of the verdict is said once.
  const add = (term, estimate, unit, decimals) => {
    if (estimate.reason !== check.reason) rows.push([term, interval(estimate, unit, decimals)]);
  };
  if (check) {
    add('left, worst axis', check.deg_per_min, '°/min', 2);
    add(`in use at ${number(check.use_c, 1)} °C`, check.deg_per_min_in_use, '°/min', 2);
    check.residual_dps.forEach((rate, i) => add(`left, ${AXES[i]}`, rate, '°/s', 4));
  }
  if (mark.open_s !== null) rows.push(['in the open', opened(mark)]);
  return element('dl', 'check-figures', ...rows.flatMap(([term, text]) => [element('dt', '', term), element('dd', '', text)]));
}

function opened({ open_s: s, faces, rebooted, temperature_spread_c: spread }) {
  const parts = [age(s)];
  if (faces) parts.push(`on ${faces} ${faces === 1 ? 'side' : 'sides'}`);
  if (typeof spread === 'number') parts.push(`${number(spread, 1)} °C apart`);
  if (rebooted) parts.push('switched off and on');
  return parts.join(', ');
}

function button(words, act) {
  const node = element('button', '', words);
  node.type = 'button';
  node.addEventListener('click', act);
  return node;
}

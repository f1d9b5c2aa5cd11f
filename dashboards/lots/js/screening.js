// The limits by which units are screened: tried on the units of a lot before they are saved for all.
import { element, setText } from '../../js/nodes.js';
import { pretty } from '../../js/words.js';
import { call, why } from '../../shared/call.js';
import { button, show, table, trackerLink } from '../../shared/parts.js';
import { options, printed, title } from './metrics.js';
import { lotPath } from './service.js';
import { verdictCounts, verdictReason, verdictWord } from './verdict.js';

const PATIENCE_S = 30;
const at = (id) => document.getElementById(id);

export class Screening {
  #lot = null;
  #inForce = '';
  #saved;

  /** {@code saved(words)} is called when they were saved. */
  constructor(saved) {
    this.#saved = saved;
    at('limits').addEventListener('submit', (event) => {
      event.preventDefault();
      this.#preview();
    });
    at('limits').addEventListener('input', () => this.#changed());
    at('save').addEventListener('click', () => this.#save());
    at('add-limit').addEventListener('change', () => {
      const metric = at('add-limit').value;
      at('limit-rows').append(this.#row({ metric, look_again_over: null, reject_over: null }));
      this.#offer();
      this.#changed();
      at(`again-${metric}`).focus();
    });
  }

  /** Shows the limits that hold; what somebody is changing stays as it is. */
  show(lot, limits) {
    const other = this.#lot?.lot !== lot.lot;
    const touched = !other && JSON.stringify(this.#limits()) !== this.#inForce;
    this.#lot = lot;
    this.#inForce = JSON.stringify(limits.map(({ metric, look_again_over: again, reject_over: reject }) => ({ metric, look_again_over: again, reject_over: reject })));
    if (touched) return;
    at('limit-rows').replaceChildren(...limits.map((limit) => this.#row(limit)));
    at('preview').hidden = true;
    this.#offer();
    this.#changed();
  }

  #row({ metric, look_again_over: again, reject_over: reject }) {
    const unit = printed(this.#lot.metrics[metric]?.unit);
    const name = `${title(metric)}${unit ? `, ${unit}` : ''}`;
    const out = button('Take out', () => {
      node.remove();
      this.#offer();
      this.#changed();
      at('add-limit').focus();
    }, { label: `Take the limit of ${title(metric)} out`, className: 'act small' });
    const node = element('fieldset', 'screen', element('legend', '', name), field(`again-${metric}`, 'look again over', again), field(`reject-${metric}`, 'reject over', reject), out);
    node.dataset.metric = metric;
    return node;
  }

  /** Figures that have no limit yet. */
  #offer() {
    const taken = this.#limits().map((limit) => limit.metric);
    const names = Object.keys(this.#lot.metrics).filter((name) => !taken.includes(name));
    at('add-limit').replaceChildren(new Option('screen by one more figure …', '', true, true), ...options(names));
    setText(at('count'), taken.length ? '' : 'None is set here: units over what the limits in force come to are looked at again, and those that don’t fit their lot.');
  }

  #limits() {
    return [...at('limit-rows').children].map((row) => ({ metric: row.dataset.metric, look_again_over: valueOf(row, 'again'), reject_over: valueOf(row, 'reject') }));
  }

  #changed() {
    at('save').disabled = JSON.stringify(this.#limits()) === this.#inForce;
    setText(at('wrong'), '');
    for (const input of at('limit-rows').querySelectorAll('[aria-invalid]')) input.removeAttribute('aria-invalid');
  }

  async #preview() {
    const answer = await call('POST', `${lotPath(this.#lot.lot)}/screening-preview`, { content: { screening_limits: this.#limits() }, seconds: PATIENCE_S });
    if (!answer.ok) return this.#refuse(answer);
    const { verdicts, verdicts_now: now, units, misfits_reason: untested } = answer.body;
    at('preview').hidden = false;
    setText(at('preview-title'), `${verdictCounts(verdicts)}; now ${verdictCounts(now)}`);
    setText(at('misfits'), untested ? `Nobody was tested for not fitting the lot: ${pretty(untested)}.` : '');
    show(at('preview-units'), ...(units.length ? [previewTable(units)] : []));
    at('preview-title').focus();
  }

  async #save() {
    const answer = await call('PUT', '/api/screening-limits', { content: { screening_limits: this.#limits() } });
    if (!answer.ok) return this.#refuse(answer);
    this.#inForce = JSON.stringify(this.#limits());
    this.#changed();
    await this.#saved('Saved. The limits hold for all lots.');
  }

  /** Says what the service has against them; the first figure that has a mistake gets the focus. */
  #refuse(answer) {
    setText(at('wrong'), pretty(why(answer)));
    const fields = (answer.body?.problems ?? []).map((problem) => at(`again-${problem.field}`)).filter(Boolean);
    fields.forEach((input) => input.setAttribute('aria-invalid', 'true'));
    fields[0]?.focus();
  }
}

function field(id, words, value) {
  const input = element('input', '');
  Object.assign(input, { type: 'number', step: 'any', min: 0, id, value: value ?? '' });
  input.autocomplete = 'off';
  const label = element('label', '', words);
  label.htmlFor = id;
  return element('span', 'field', label, input);
}

function valueOf(row, part) {
  const input = row.querySelector(`input[id^="${part}-"]`);
  return input.value === '' ? null : input.valueAsNumber;
}

function previewTable(units) {
  return table('Units that these limits do not accept, or judge otherwise', [
    { head: 'unit', cell: (u) => trackerLink(u.tracker, u.name) },
    { head: 'by these', cell: (u) => verdictWord(u.screening) },
    { head: 'now', cell: (u) => (u.screening.verdict === u.screening_now.verdict ? element('span', 'quiet', 'the same') : verdictWord(u.screening_now)) },
    { head: 'why', wide: true, cell: (u) => verdictReason(u.screening) },
  ], units);
}

// The limits as fields: what each means, from where to where it may be set, what holds, what is proposed.
import { element, flag, setText } from '../../js/nodes.js';
import { number, unit } from '../../js/words.js';

const GROUPS = [
  ['Where it must lie', ['band_low_c', 'band_high_c', 'band_margin_c', 'use_temperature_c', 'near_use_limit_deg_per_min']],
  ['Too hot', ['hot_c', 'rise_limit_c_per_min']],
  ['When it is settled', ['temperature_rate_limit_c_per_min', 'shift_limit_dps', 'calibration_s', 'dwell_s', 'alpha']],
  ['Heard and still', ['heard_within_s', 'gap_limit_s', 'still_for_s']],
];

/** Shows a field for each limit. {@code described} is how the service describes them, {@code changed()} hears of every key stroke. */
export class Form {
  #rows = new Map();
  #inForce = {};

  constructor(place, described, changed) {
    const told = new Set(GROUPS.flatMap(([, keys]) => keys));
    const others = Object.keys(described).filter((key) => !told.has(key));
    for (const [title, keys] of [...GROUPS, ['Others', others]]) {
      const known = keys.filter((key) => described[key]);
      if (known.length) place.append(element('fieldset', 'limits', element('legend', '', title), ...known.map((key) => this.#row(key, described[key]))));
    }
    place.addEventListener('input', () => { this.#mark(); changed(); });
  }

  #row(key, limit) {
    const input = element('input', '');
    Object.assign(input, { type: 'number', step: 'any', id: key, name: key, min: limit.minimum, max: limit.maximum });
    input.required = !open(limit);
    input.setAttribute('aria-describedby', `${key}-about`);
    const label = element('label', 'limit-name', limit.title);
    label.htmlFor = key;
    const is = element('p', 'limit-is');
    const wrong = element('p', 'wrong');
    const about = element('p', 'limit-about', limit.description, ' ', element('span', 'quiet', range(limit)));
    about.id = `${key}-about`;
    const field = element('span', 'limit-field', input, element('span', 'limit-unit', unit(limit['x-unit'])));
    const node = element('div', 'limit', element('p', '', label, element('small', 'limit-key', key)), field, about, is, wrong);
    this.#rows.set(key, { node, input, is, wrong, unit: unit(limit['x-unit']) });
    return node;
  }

  /** The limits that hold; fields that nobody has touched follow. */
  hold(inForce) {
    const proposed = this.proposed();
    this.#inForce = inForce;
    for (const [key, { input }] of this.#rows) if (!(key in proposed)) input.value = inForce[key] ?? '';
    this.#mark();
  }

  /** Proposes these; names that are no limits are passed over. */
  propose(values) {
    for (const [key, { input }] of this.#rows) input.value = (values.has(key) ? values.get(key) : this.#inForce[key]) ?? '';
    this.#mark();
  }

  /** What differs from the limits that hold; null leaves one open, NaN is no number. */
  proposed() {
    const differing = [...this.#rows].map(([key, { input }]) => [key, valueOf(input)])
      .filter(([key, value]) => value !== (this.#inForce[key] ?? null));
    return this.#rows.size && Object.keys(this.#inForce).length ? Object.fromEntries(differing) : {};
  }

  /** The limits that hold. */
  held() {
    return this.#inForce;
  }

  /** All of them, with the proposed values. */
  all() {
    return { ...this.#inForce, ...this.proposed() };
  }

  /** Shows what the service has against them, each at its field; the first gets the focus. Those that belong to none are returned. */
  refuse(problems) {
    this.clear();
    const mine = problems.filter((problem) => this.#rows.has(problem.field));
    for (const { field, reason } of mine) {
      const { input, wrong } = this.#rows.get(field);
      input.setAttribute('aria-invalid', 'true');
      setText(wrong, reason);
    }
    if (mine.length) this.#rows.get(mine[0].field).input.focus();
    return problems.filter((problem) => !mine.includes(problem));
  }

  clear() {
    for (const { input, wrong } of this.#rows.values()) {
      input.removeAttribute('aria-invalid');
      setText(wrong, '');
    }
  }

  #mark() {
    const proposed = this.proposed();
    for (const [key, row] of this.#rows) {
      const is = this.#inForce[key] ?? null;
      flag(row.node, 'data-changed', key in proposed);
      setText(row.is, key in proposed ? `Proposed; ${is === null ? 'left open' : `${is} ${row.unit}`.trim()} holds now` : '');
    }
  }
}

function valueOf(input) {
  return input.value === '' && !input.validity.badInput ? null : input.valueAsNumber;
}

function range(limit) {
  const [least, most, otherwise] = [limit.minimum, limit.maximum, limit.default].map((value) => (value === null ? 'left open' : told(value)));
  return `From ${least} to ${most}${open(limit) ? ', or empty to leave it open' : ''}; ${otherwise} if nobody sets it.`;
}

function told(value) {
  return number(value, String(value).split('.')[1]?.length ?? 0);
}

function open(limit) {
  return [].concat(limit.type).includes('null');
}

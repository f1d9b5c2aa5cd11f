// What is shown of the trackers: the form, and in the list only some of them.
import { chooseForm, chosenForm } from './form.js';
import { element, setText } from './nodes.js';

const FORMS = [['', 'by itself'], ['full', 'tiles'], ['compact', 'small tiles'], ['bench', 'benches'], ['list', 'list']];
const FILTERS = ['rack', 'lot', 'state'];
const EVERY = 'all';

export class Controls {
  #form;
  #filters;
  #shown = element('span', 'shown');

  /** The form is chosen at one place, who is listed at another; {@code changed()} is called when somebody chose. */
  constructor(formPlace, place, changed) {
    this.#form = select('View', FORMS, () => {
      chooseForm(this.#form.field.value);
      changed();
    });
    this.#form.field.value = chosenForm() ?? '';
    this.#filters = FILTERS.map((name) => ({ name, ...select(name, [['', EVERY]], changed) }));
    formPlace.append(this.#form.label);
    place.append(...this.#filters.map((f) => f.label), this.#shown);
  }

  /** The form that somebody chose, or an empty word. */
  get form() {
    return this.#form.field.value;
  }

  /** The views that are to be shown in this form; only a list leaves any out. */
  filtered(views, form) {
    const on = form === 'list';
    for (const { name, label, field } of this.#filters) {
      label.hidden = !on || !offer(field, [...new Set(views.map((v) => v[name]))].filter(Boolean).sort());
    }
    const kept = on ? views.filter((v) => this.#filters.every((f) => !f.field.value || v[f.name] === f.field.value)) : views;
    this.#shown.parentElement.hidden = !on;
    setText(this.#shown, on ? `${kept.length} shown` : '');
    return kept;
  }
}

/** Offers these words, and tells whether there is a choice. One that is chosen stays. */
function offer(field, words) {
  const all = ['', ...words, ...(field.value && !words.includes(field.value) ? [field.value] : [])];
  if (all.length !== field.options.length || all.some((word, i) => field.options[i].value !== word)) {
    const chosen = field.value;
    field.replaceChildren(...all.map((word) => new Option(word || EVERY, word)));
    field.value = chosen;
  }
  return all.length > 2;
}

function select(name, options, changed) {
  const field = element('select', '');
  field.append(...options.map(([value, words]) => new Option(words, value)));
  field.addEventListener('change', changed);
  return { field, label: element('label', '', `${name.charAt(0).toUpperCase()}${name.slice(1)} `, field) };
}

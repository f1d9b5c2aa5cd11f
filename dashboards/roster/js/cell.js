// One field of an entry: a button that turns into an input, and back when it is saved.
import { element, setParts } from '../../js/nodes.js';
import { button } from '../../shared/parts.js';
import { save } from '../../shared/entry.js';

/** What is entered how; words are those of the service. */
export const FIELDS = [
  { name: 'name', head: 'name' }, { name: 'lot', head: 'lot' }, { name: 'rack', head: 'rack' }, { name: 'slot', head: 'slot' },
  { name: 'power', head: 'power', words: ['battery', 'usb', 'unknown'] },
  { name: 'rates', head: 'rates', words: ['raw', 'constant', 'follows', 'unknown'] },
  { name: 'imu', head: 'IMU' }, { name: 'board', head: 'board' },
  { name: 'temperature_offset_c', head: 'offset, °C', number: true }, { name: 'note', head: 'note' },
];

export class Cell {
  #field;
  #entry;
  #changed;
  #input = null;
  #wrong = element('span', 'wrong');
  node = element('span', 'cell-place');

  /** {@code changed(entry)} hears of what was saved. */
  constructor(field, entry, changed) {
    this.#field = field;
    this.#entry = entry;
    this.#changed = changed;
    this.#wrong.setAttribute('role', 'alert');
    this.#rest();
  }

  /** Whether somebody is at it. */
  get busy() {
    return this.#input !== null;
  }

  #rest(focus = false) {
    this.#input = null;
    const { name, head } = this.#field;
    const value = String(this.#entry[name] ?? '');
    const shown = button(value || '–', () => this.#edit(), { className: 'cell', key: `${this.#entry.id} ${name}`, label: `${head} of ${this.#entry.id}: ${value || 'empty'}. Change` });
    this.node.replaceChildren(shown);
    if (focus) shown.focus();
  }

  #edit() {
    const { name, words, number, head } = this.#field;
    this.#input = words ? element('select', '', ...words.map((word) => new Option(word, word))) : element('input', '');
    if (number) Object.assign(this.#input, { type: 'number', step: 'any', min: -20, max: 20 });
    this.#input.value = this.#entry[name] ?? '';
    this.#input.setAttribute('aria-label', `${head} of ${this.#entry.id}`);
    this.#input.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') this.#rest(true);
      else if (event.key === 'Enter') this.#save(true);
    });
    this.#input.addEventListener('blur', () => { if (!this.#wrong.textContent) this.#save(false); });
    setParts(this.#wrong, []);
    this.node.replaceChildren(this.#input, this.#wrong);
    this.#input.focus();
    this.#input.select?.();
  }

  get #value() {
    if (this.#field.number) return this.#input.value === '' ? 0 : this.#input.valueAsNumber;
    return this.#input.value.trim();
  }

  async #save(focus, shown = this.#entry) {
    const input = this.#input;
    const { name } = this.#field;
    if (!input || input.readOnly) return;
    const value = this.#value;
    if (value === this.#entry[name]) return this.#rest(focus);
    input.readOnly = true;
    const { saved, conflict, entry, refused } = await save(this.#entry.id, shown, { [name]: value });
    input.readOnly = false;
    if (saved) {
      this.#entry = saved;
      this.#rest(focus);
      return this.#changed(saved);
    }
    input.setAttribute('aria-invalid', 'true');
    if (refused) return this.#say(`Not saved: ${refused}`, button('Leave it', () => this.#rest(true), { className: 'act small' }));
    return this.#say(`Somebody has set it to “${conflict.theirs}” meanwhile.`,
      button('Keep theirs', () => this.#keep(entry), { className: 'act small' }),
      button('Set mine', () => this.#save(true, entry), { className: 'act small' }));
  }

  #keep(entry) {
    this.#entry = entry ?? this.#entry;
    this.#rest(true);
    this.#changed(this.#entry);
  }

  #say(words, ...answers) {
    this.#wrong.replaceChildren(words, ' ', ...answers);
  }
}

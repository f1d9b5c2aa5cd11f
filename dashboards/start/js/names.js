// Those who are heard, to be given a name and a place.
import { element, setParts, setText } from '../../js/nodes.js';
import { number } from '../../js/words.js';
import { listed, save } from '../../shared/entry.js';
import { stateWord } from '../../shared/state.js';

const FIELDS = [['name', 'name'], ['rack', 'rack'], ['slot', 'slot']];

/** A row for each; what somebody has begun to type is left alone. */
export class Names {
  #list;
  #rows = new Map();

  constructor(list) {
    this.#list = list;
  }

  /** {@code heard} are verdicts, {@code entries} a map from id to what is listed. */
  show(heard, entries) {
    const ids = new Set(heard.map((v) => v.tracker));
    for (const [id, row] of this.#rows) {
      if (ids.has(id)) continue;
      row.node.remove();
      this.#rows.delete(id);
    }
    for (const verdict of heard) {
      const row = this.#rows.get(verdict.tracker) ?? this.#add(verdict.tracker);
      row.show(verdict, entries.get(verdict.tracker) ?? null);
    }
  }

  #add(id) {
    const row = new Row(id);
    this.#rows.set(id, row);
    this.#list.append(row.node);
    return row;
  }

  /** Saves every row that was filled in; resolves to how many were, and how many could not be. */
  async save() {
    const done = [];
    for (const row of this.#rows.values()) if (row.changed) done.push(await row.save());
    return { saved: done.filter(Boolean).length, failed: done.filter((ok) => !ok).length };
  }
}

class Row {
  #id;
  #entry = null;
  #now = element('p', 'now');
  #wrong = element('p', 'wrong');
  #inputs = new Map();
  node;

  constructor(id) {
    this.#id = id;
    this.#wrong.setAttribute('role', 'alert');
    this.node = element('li', 'heard', element('h3', '', id), this.#now, ...FIELDS.map((field) => this.#field(field)), this.#wrong);
  }

  #field([name, label]) {
    const input = element('input', '');
    input.id = `${this.#id} ${name}`;
    input.autocomplete = 'off';
    if (name === 'rack') input.setAttribute('list', 'racks');
    input.setAttribute('aria-label', `${label} of ${this.#id}`);
    this.#inputs.set(name, input);
    const words = element('label', '', label);
    words.htmlFor = input.id;
    return element('div', 'field', words, input);
  }

  show({ state, temperature_c: temperature }, entry) {
    setParts(this.#now, [stateWord(state), Number.isFinite(temperature) ? ` ${number(temperature, 1)} °C` : '']);
    // Of a field that somebody is at, what was there when it was begun stays known: saving tells whether it is so still.
    const before = entry && { ...entry };
    for (const [name, input] of this.#inputs) {
      const untouched = input.value === listed(this.#entry, name);
      if (untouched) input.value = listed(entry, name);
      else if (before) before[name] = this.#entry?.[name] ?? '';
    }
    this.#entry = before;
  }

  get #changes() {
    return Object.fromEntries([...this.#inputs].map(([name, input]) => [name, input.value.trim()])
      .filter(([name, value]) => value !== listed(this.#entry, name)));
  }

  get changed() {
    return Object.keys(this.#changes).length > 0;
  }

  async save() {
    const { saved, conflict, entry, refused } = await save(this.#id, this.#entry, this.#changes);
    if (saved) {
      this.#entry = saved;
      for (const [name, input] of this.#inputs) input.value = listed(saved, name);
    } else if (conflict) {
      this.#entry = entry;
    }
    setText(this.#wrong, refused ? `Not saved: ${refused}` : conflict ? `Somebody has set the ${conflict.field} to “${conflict.theirs}” meanwhile; save again to set yours.` : '');
    return Boolean(saved);
  }
}


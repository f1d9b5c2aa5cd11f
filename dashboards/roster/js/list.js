// The roster as a table that is changed in its place.
import { link, show, table } from '../../shared/parts.js';
import { Cell, FIELDS } from './cell.js';

export class List {
  #place;
  #changed;
  #cells = [];

  /** {@code changed(entry)} hears of every entry that was saved. */
  constructor(place, changed) {
    this.#place = place;
    this.#changed = changed;
  }

  /** Whether somebody is changing something: then the table must not be drawn anew. */
  get busy() {
    return this.#cells.some((cell) => cell.busy);
  }

  show(entries) {
    this.#cells = [];
    show(this.#place, table('The roster', [
      { head: 'id', cell: (entry) => link(`/tracker/${encodeURIComponent(entry.id)}`, entry.id) },
      ...FIELDS.map((field) => ({ head: field.head, number: field.number, cell: (entry) => this.#cell(field, entry) })),
    ], entries));
  }

  #cell(field, entry) {
    const cell = new Cell(field, entry, this.#changed);
    this.#cells.push(cell);
    return cell.node;
  }
}

// A part of a page: a title, a sentence with the number, what can be taken from it, the drawing, and its table.
import { element, setParts, setText } from '../js/nodes.js';
import { paint } from './paint.js';
import { copy, pngFile, save, svgFile } from './save.js';
import { csv, htmlTable, tabbed } from './table.js';

/** {@code table()} gives {columns, rows}; {@code pictures()} [{svg, words}], or is left out where there is no drawing. */
export class Figure {
  #title;
  #file;
  #table;
  #pictures;
  #said = element('span', 'taken');
  #sentence = element('p', 'sentence');
  #heading = element('h2', '');
  #takes;
  #details = element('details', 'as-table', element('summary', '', 'As a table'));
  /** Where the drawing goes. */
  body = element('div', 'drawing');
  /** The element to show. */
  node;

  constructor(id, title, { className = '', table, pictures }) {
    this.#title = title;
    this.#table = table;
    this.#pictures = pictures;
    setText(this.#heading, title);
    this.#heading.id = `${id}-title`;
    this.#said.setAttribute('role', 'status');
    this.#takes = this.#take();
    this.#takes.hidden = true;
    const head = element('header', '', this.#heading, this.#takes, this.#sentence);
    this.node = element('section', `figure ${className}`, head, this.body, this.#details);
    this.node.id = id;
    this.#details.hidden = true;
    this.node.setAttribute('aria-labelledby', this.#heading.id);
    this.#details.addEventListener('toggle', () => this.#fill());
  }

  /** Says that it is not known yet. Nothing is drawn: axes without data look like data. */
  wait() {
    this.body.hidden = true;
    setText(this.#sentence, 'Not known yet: the service works it out from all of the soak.');
  }

  /** What is said above the drawing, as parts; {@code file} begins the names of what is saved. */
  say(parts, file) {
    setParts(this.#sentence, parts);
    this.#takes.hidden = false;
    this.#details.hidden = false;
    this.#file = file;
    this.#fill();
  }

  #fill() {
    if (!this.#details.open) return;
    this.#details.querySelector('table')?.remove();
    this.#details.append(htmlTable(this.#table(), this.#title));
  }

  #take() {
    const acts = [['copy numbers', () => this.#copy()], ['CSV', () => save(this.#name(), 'csv', csv(this.#table()))]];
    if (this.#pictures) {
      acts.push(['SVG', () => save(this.#name(), 'svg', this.#svg())]);
      acts.push(['PNG', async () => save(this.#name(), 'png', await pngFile(this.#svg()))]);
    }
    return element('p', 'take', this.#said, ...acts.map(([words, act]) => this.#button(words, act)));
  }

  #button(words, act) {
    const button = element('button', '', words);
    button.type = 'button';
    button.setAttribute('aria-label', `${this.#title}: ${words}`);
    button.addEventListener('click', act);
    return button;
  }

  async #copy() {
    const done = await copy(tabbed(this.#table()));
    setText(this.#said, done ? 'copied' : 'not copied: the browser refused');
    setTimeout(() => setText(this.#said, ''), 4_000);
  }

  #name() {
    return [this.#file, this.node.id].filter(Boolean).join('-').replace(/[^\w.-]+/g, '_');
  }

  #svg() {
    return svgFile(this.#pictures(), `${this.#title} · ${this.#file}`, paint('--paper'), paint('--ink'));
  }
}

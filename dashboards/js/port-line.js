// What is wrong on the way from the ports to the database, on one line of the board that opens the page of the ports.
import { flag, setText } from './nodes.js';
import { json } from './request.js';
import { pretty } from './words.js';

const EVERY_MS = 5_000;
const NAMED = 3;

export class PortLine {
  #line;
  #link;

  /** {@code line} is a link with the words, {@code link} the one in the header, which has the count. */
  constructor(line, link) {
    this.#line = line;
    this.#link = link;
  }

  /** Asks again and again; where the service does not answer the page says so elsewhere. */
  async start() {
    try {
      this.#show((await json('/api/ports')).troubles);
    } catch {
      this.#line.hidden = true;
    }
    setTimeout(() => this.start(), EVERY_MS);
  }

  #show(wrong) {
    this.#line.hidden = !wrong.length;
    flag(this.#link, 'data-wrong', wrong.length);
    this.#link.dataset.count = wrong.length || '';
    const named = wrong.slice(0, NAMED).map(({ where, what }) => `${where}: ${pretty(what)}`);
    if (wrong.length > NAMED) named.push(`and ${wrong.length - NAMED} more`);
    const ports = wrong[0]?.where.startsWith('Slot ');
    setText(this.#line, `${ports ? 'Ports: ' : ''}${named.join('; ')}`);
  }
}

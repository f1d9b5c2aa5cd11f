// What is wrong with the ports of the rack, on one line of the board that opens their page.
import { flag, setText } from './nodes.js';
import { portName, troubled } from './port-words.js';
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
      this.#show(troubled((await json('/api/ports')).ports));
    } catch {
      this.#line.hidden = true;
    }
    setTimeout(() => this.start(), EVERY_MS);
  }

  #show(wrong) {
    this.#line.hidden = !wrong.length;
    flag(this.#link, 'data-wrong', wrong.length);
    this.#link.dataset.count = wrong.length || '';
    const named = wrong.slice(0, NAMED).map((port) => `${portName(port)}: ${pretty(port.trouble)}`);
    if (wrong.length > NAMED) named.push(`and ${wrong.length - NAMED} more`);
    setText(this.#line, `Ports: ${named.join('; ')}`);
  }
}

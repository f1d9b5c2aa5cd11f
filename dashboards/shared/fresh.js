// Keeps a page up to date, and says so where it can't be.
import { element, flag, setParts, setText } from '../js/nodes.js';
import { age, clockWithSeconds } from '../js/words.js';
import { Failure } from './call.js';

const AGAIN_MS = 3_000;
const TELL_EVERY_MS = 1_000;

/** Reads again and again. {@code load} reads and draws, and throws a Failure where it can't; {@code everyMs()} says how often. */
export class Fresh {
  #load;
  #everyMs;
  #notices = document.getElementById('notices');
  #main = document.querySelector('main');
  #readMs = 0;
  #failure = null;
  #timer = null;
  #turn = 0;

  constructor(load, everyMs) {
    this.#load = load;
    this.#everyMs = everyMs;
    setInterval(() => { if (this.#failure) this.#tell(); }, TELL_EVERY_MS);
    addEventListener('online', () => this.now());
  }

  /** Reads now, whatever else is under way; what an earlier reading still brings is not shown by this one's caller. */
  async now() {
    clearTimeout(this.#timer);
    const turn = ++this.#turn;
    try {
      await this.#load(() => turn === this.#turn);
      if (turn !== this.#turn) return;
      this.#failure = null;
      this.#readMs = Date.now();
    } catch (e) {
      if (!(e instanceof Failure)) throw e;
      if (turn !== this.#turn) return;
      this.#failure = e;
    }
    this.#tell();
    if (this.#failure?.isFinal) return;
    const waitMs = this.#failure ? AGAIN_MS : this.#everyMs();
    this.#timer = setTimeout(() => this.now(), waitMs);
  }

  #tell() {
    flag(this.#main, 'data-old', this.#failure && this.#readMs);
    if (this.#failure && !this.#readMs) setText(document.querySelector('h1'), this.#failure.isFinal ? 'Nothing to show' : 'No answer yet');
    setParts(this.#notices, this.#failure ? [element('p', 'notice', ...words(this.#failure, this.#readMs))] : []);
  }
}

function words({ status, message, isFinal }, readMs) {
  if (status === 401) return ['This browser is not let in, or no longer. ', link('/pair', 'Enter a pairing code'), '.'];
  if (isFinal) return [message];
  const old = readMs
    ? ` What you see was read at ${clockWithSeconds(readMs)}, ${age((Date.now() - readMs) / 1000)} ago.` : '';
  return [`${message}${old} Trying again by itself.`];
}

function link(path, text) {
  const node = element('a', '', text);
  node.href = path;
  return node;
}

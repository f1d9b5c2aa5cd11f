// Asking for the parts of a page: what fails is told, and everything asked again a little later.
import { ask, health } from './service.js';

const AGAIN_MS = 5_000;

/** {@code changed()} hears of every answer, {@code again()} asks for everything once more. */
export class Asking {
  #changed;
  #again;
  health = null;
  failed = [];

  constructor(changed, again) {
    this.#changed = changed;
    this.#again = again;
  }

  /** Asks for one part, at a path or by a function; {@code take} gets what was found. */
  async part(name, path, take) {
    try {
      const body = typeof path === 'string' ? await ask(path) : await path();
      this.failed = this.failed.filter((f) => !f.startsWith(`${name}:`));
      if (body) await take(body);
      this.#changed();
    } catch (e) {
      await this.fail(name, e);
    }
  }

  /** A part could not be read. */
  async fail(name, e) {
    const first = !this.failed.length;
    this.failed = [...this.failed.filter((f) => !f.startsWith(`${name}:`)), `${name}: ${e.message}`];
    if (first) {
      setTimeout(() => {
        this.failed = [];
        this.#again();
      }, AGAIN_MS);
    }
    await this.unwell();
  }

  /** Asks what is wrong. */
  async unwell() {
    this.health = await health();
    this.#changed();
  }
}

// Tells that one turned ready to somebody who looks elsewhere: a chime, and a count in the title until they look. Off at first.
import { setAttributes, setText } from './nodes.js';
import { remembered } from './remembered.js';
import { tone } from './tone.js';

const CHIME_HZ = [660, 880];

export class Bell {
  #button;
  #on = remembered('soakbench.bell');
  #ready = null;
  #news = new Set();

  constructor(button) {
    this.#button = button;
    button.addEventListener('click', () => {
      this.#on.toggle();
      this.#news.clear();
      if (this.#on.value) this.#chime();
      this.#show();
    });
    document.addEventListener('visibilitychange', () => { if (!document.hidden) this.#news.clear(); });
    this.#show();
  }

  /** Those that are ready to be calibrated now; the first call only learns. How many turned so since somebody looked. */
  hear(ready) {
    const ids = new Set(ready.map((view) => view.id));
    const fresh = this.#ready ? [...ids].filter((id) => !this.#ready.has(id)) : [];
    this.#ready = ids;
    for (const id of this.#news) if (!ids.has(id)) this.#news.delete(id);
    if (!this.#on.value) return 0;
    if (fresh.length) this.#chime();
    if (document.hidden) fresh.forEach((id) => this.#news.add(id));
    return this.#news.size;
  }

  #chime() {
    CHIME_HZ.forEach((hz, i) => tone(hz, i * 0.2));
  }

  #show() {
    setText(this.#button, `Chime ${this.#on.value ? 'on' : 'off'}`);
    setAttributes(this.#button, { 'aria-pressed': this.#on.value });
  }
}

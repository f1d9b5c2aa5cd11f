// The answer: who is next, in the largest words of the page, filled where it calls for a hand.
import { gauge } from './gauge.js';
import { element, flag, setText } from './nodes.js';
import { answer } from './sentence.js';
import { holds, trackerPage } from './tile.js';
import { age, number, pretty, sentence } from './words.js';

/** Fills the page's first heading and what stands under it. */
export class Slab {
  #place;
  #say = element('em', '');
  #name = element('a', 'slab-name');
  #slot = element('span', 'slab-slot');
  #tail = element('span', '');
  #head;
  #how = element('p', 'how');
  #gauge = gauge();

  /** {@code head} is the heading, in {@code place}. */
  constructor(place, head) {
    this.#place = place;
    this.#head = head;
    place.append(this.#how, this.#gauge.svg);
  }

  /** Shows a sentence alone. */
  say(text) {
    this.#show(text, null, '', false);
  }

  show(groups, { heatIsTold, lost, scale }) {
    const { say, view, calls, tail } = answer(groups, { heatIsTold, lost });
    this.#show(say, view, tail, calls);
    this.#place.dataset.state = view?.state ?? '';
    flag(this.#place, 'data-then', heatIsTold);
    setText(this.#how, view ? how(view, calls) : '');
    this.#gauge.svg.toggleAttribute('hidden', !view);
    if (view) this.#gauge.update(view.readiness, scale);
  }

  #show(say, view, tail, calls) {
    flag(this.#place, 'data-calls', calls);
    setText(this.#say, say);
    setText(this.#name, view?.name ?? '');
    const slot = view?.slot ? `slot\u00a0${view.slot}` : '';
    setText(this.#slot, slot);
    setText(this.#tail, slot && tail ? `,${tail}` : tail);
    if (view) this.#name.href = trackerPage(view.id);
    const parts = view ? [this.#say, ' ', this.#name, ...(slot ? [', ', this.#slot] : []), this.#tail] : [this.#say];
    if (this.#head.firstChild !== this.#say || this.#head.childNodes.length !== parts.length) this.#head.replaceChildren(...parts);
    const letters = say.length + (view ? view.name.length + slot.length + tail.length + 3 : 0);
    this.#head.style.setProperty('--len', Math.max(14, letters));
    if (!view) {
      setText(this.#how, '');
      this.#gauge.svg.toggleAttribute('hidden', true);
    }
  }
}

/** "Stove bench, 30.3 °C, ready for 36 min. Once lifted, its bias holds for about 50 s." */
function how(view, calls) {
  const { rack, state, readiness, sinceMs, nowMs, power } = view;
  if (state === 'hot') return `${sentence(pretty(readiness.advice))}. The cell maker’s instructions go first.`;
  const c = readiness.temperature_c;
  const parts = [rack, typeof c === 'number' ? `${number(c, 1)}\u00a0°C` : '',
    state === 'ready' ? `ready for ${age((nowMs - sinceMs) / 1000)}` : state].filter(Boolean);
  const usb = power === 'usb' ? ' On USB: leave it uncovered.' : '';
  return `${sentence(parts.join(', '))}.${calls ? holds(readiness) : ''}${usb}`;
}

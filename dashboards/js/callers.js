// Who else calls for a hand, once and large, in the order to be taken. On the bench below each has the same number.
import { element, flag, setAttributes, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';
import { tileId } from './tile.js';
import { number } from './words.js';

// One row with figures, or two rows of names and slots; further ones have their number on the bench.
const ROOMY = 5;
const MOST = 10;

export class Callers {
  #place;
  #more = element('li', 'calls-more');
  #cards = new Map();

  constructor(place) {
    this.#place = place;
  }

  /** Shows those who call after the first, in their order; none while the tiles themselves are large. */
  show(views, on) {
    const shown = on ? views.slice(0, views.length > MOST ? MOST - 1 : MOST) : [];
    this.#place.hidden = !shown.length;
    flag(this.#place, 'data-slim', views.length > ROOMY);
    const nodes = shown.map((view) => this.#card(view));
    const left = views.length - shown.length;
    if (on && left) {
      setText(this.#more, `and ${left} more, numbered below`);
      nodes.push(this.#more);
    }
    const gone = new Set(shown.map((v) => v.id));
    for (const id of this.#cards.keys()) if (!gone.has(id)) this.#cards.delete(id);
    nodes.forEach((node, i) => { if (this.#place.children[i] !== node) this.#place.insertBefore(node, this.#place.children[i] ?? null); });
    [...this.#place.children].slice(nodes.length).forEach((node) => node.remove());
  }

  #card(view) {
    if (!this.#cards.has(view.id)) this.#cards.set(view.id, make(view.id));
    const card = this.#cards.get(view.id);
    update(card, view);
    return card.item;
  }
}

function make(id) {
  const card = {
    name: element('b', ''), slot: element('span', 'slot'), rack: element('small', ''), ring: element('span', 'order'),
    figures: element('span', 'figures'), note: element('strong', 'note'),
  };
  card.link = element('a', 'call', card.name, ' ', element('span', 'call-place', card.slot, ' ', card.rack), card.ring, card.figures, card.note);
  card.link.href = `#${tileId(id)}`;
  card.item = element('li', '', card.link);
  return card;
}

function update(card, view) {
  const { readiness, state } = view;
  card.link.dataset.state = state;
  card.link.style.setProperty('--len', Math.max(8, view.name.length));
  card.link.style.setProperty('--both', Math.max(10, view.name.length + view.slot.length + 1));
  setText(card.name, view.name);
  setText(card.slot, view.slot);
  setText(card.rack, view.rack);
  setText(card.ring, String(view.order ?? ''));
  setAttributes(card.ring, { 'aria-label': `taken ${view.order}` });
  setParts(card.figures, figures(view));
  setText(card.note, state === 'hot' ? 'Uncover it now' : view.power === 'usb' ? 'on USB: leave it uncovered' : '');
  setAttributes(card.link, { title: `${view.name} ${view.slot}, ${readiness.advice}` });
}

function figures({ state, readiness }) {
  const c = readiness.temperature_c;
  const atMost = readiness.unwrapped?.time_s?.low;
  const open = typeof atMost === 'number' ? ` · ${Math.floor(atMost)}\u00a0s in the open` : '';
  return [shape(state), ` ${typeof c === 'number' ? `${number(c, 1)}\u00a0°C` : state}${state === 'hot' ? '' : open}`];
}

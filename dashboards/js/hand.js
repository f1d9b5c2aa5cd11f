// The tracker in somebody's hand, counted along in words that are large enough for a dark room and black enough not to blind.
import { HandBox } from './hand-box.js';
import { element, flag, setAttributes, setParts, setText } from './nodes.js';
import { remembered } from './remembered.js';
import { tone } from './tone.js';
import { age, number, pretty, sentence } from './words.js';

const FACE_HZ = 880;

/** Shows the newest of those in the hand that may be calibrated; {@code place} is hidden while there is none. */
export class Hand {
  #place;
  #name = element('p', 'hand-name');
  #face = element('p', 'hand-face');
  #still = element('p', 'hand-still');
  #box = new HandBox();
  #off = element('p', 'hand-off');
  #note = element('p', 'hand-note');
  #open = meter('in the open');
  #warm = element('p', 'hand-warm');
  #sound = button('');
  #whole = button('');
  #on = remembered('soakbench.face-sound');
  #done = 0;
  #shown = null;

  constructor(place) {
    this.#place = place;
    this.#sound.addEventListener('click', () => {
      this.#on.toggle();
      if (this.#on.value) tone(FACE_HZ);
      this.#showSound();
    });
    this.#showSound();
    this.#whole.className = 'hand-whole';
    this.#whole.addEventListener('click', () => this.#showWhole(!this.#place.hasAttribute('data-whole')));
    this.#showWhole(false);
    this.#note.setAttribute('role', 'status');
    place.append(this.#name, this.#face, this.#still, this.#box.node, this.#off, this.#note, this.#open.node, this.#warm,
      element('p', 'hand-acts', this.#sound, this.#whole));
  }

  /** All that are in a hand, as the service tells them; {@code places} maps an id to its slot. */
  show(all, places) {
    const guided = all.filter((hand) => hand.may_be_calibrated);
    const hand = guided.reduce((a, b) => (a && a.since >= b.since ? a : b), null);
    this.#place.hidden = !hand;
    if (!hand) {
      this.#shown = null;
      this.#showWhole(false);
      return;
    }
    const slot = places.get(hand.tracker)?.slot;
    setText(this.#name, `${hand.name}${slot ? `, slot ${slot}` : ''}`);
    setParts(this.#face, hand.face ? [`face ${hand.face}`, element('small', '', ` of ${hand.faces_wanted}`)] : [hand.still_s ? 'lying' : 'moving']);
    setParts(this.#still, still(hand));
    this.#box.show(hand);
    setText(this.#off, hand.off_and_on_words ? `${sentence(hand.off_and_on_words)}.` : '');
    setText(this.#note, hand.note ? `${sentence(hand.note)}.` : '');
    this.#open.show(hand.open_s, hand.open_at_most_s);
    setText(this.#warm, typeof hand.temperature_c === 'number' ? `${number(hand.temperature_c, 1)}\u00a0°C` : '');
    setAttributes(this.#place, { 'aria-label': `${hand.name}: ${pretty(hand.words)}` });
    this.#ring(hand);
  }

  /** A tone for each face that has been held for long enough. */
  #ring({ tracker, since, faces_shown: faces }) {
    const done = faces.filter((face) => face.done).length;
    const key = `${tracker} ${since}`;
    if (this.#shown === key && done > this.#done && this.#on.value) tone(FACE_HZ);
    this.#shown = key;
    this.#done = done;
  }

  /** On a phone the guide stands alone, so that nothing bright is beside it; the board is there where somebody asks for it. */
  #showWhole(on) {
    flag(this.#place, 'data-whole', on);
    setText(this.#whole, on ? 'Guide alone' : 'Show the board');
  }

  #showSound() {
    setText(this.#sound, `Sound a face: ${this.#on.value ? 'on' : 'off'}`);
    setAttributes(this.#sound, { 'aria-pressed': this.#on.value });
  }
}

function still({ still_s: s, enough_s: enough, face, faces_shown: faces }) {
  if (!s) return ['moving', element('small', '', 'lay it on a face and let go')];
  if (s >= enough) return [`still ${age(s)}`, element('small', '', face || !faces.length ? 'enough: on to the next face' : 'askew: on no face of the box')];
  return [`still ${age(s)}`, element('small', '', `enough from ${age(enough)}`)];
}

/** A bar that runs towards a drawn limit. */
function meter(label) {
  const value = element('b', '');
  const bar = element('progress', '');
  const node = element('label', 'hand-meter', element('span', '', label), value, bar);
  const show = (s, atMost) => {
    const known = typeof atMost === 'number';
    setText(value, `${age(s)}${known ? ` of about ${Math.floor(atMost)}\u00a0s` : ''}`);
    bar.hidden = !known;
    if (known) setAttributes(bar, { max: Math.max(1, Math.floor(atMost)), value: Math.min(s, Math.floor(atMost)) });
    flag(node, 'data-over', known && s > atMost);
  };
  return { node, show };
}

function button(words) {
  const node = element('button', '', words);
  node.type = 'button';
  return node;
}

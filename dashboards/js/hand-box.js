// The six faces of the tracker in somebody's hand, as a box unfolded: each fills in where it has been held for long enough.
import { element, flag, setAttributes } from './nodes.js';

// As a box lies unfolded: what is opposite each other never lies side by side.
const UNFOLDED = ['+y', '-x', '+z', '+x', '-z', '-y'];
const WORDS = { done: 'done', now: 'now', again: 'again', left: 'to come' };

/** A list; {@code show(hand)} fills it, and hides it where nothing tells faces. */
export class HandBox {
  /** The element to show. */
  node = element('ol', 'hand-box');
  #cells = new Map();

  constructor() {
    this.node.setAttribute('aria-label', 'Faces, by the side that is up');
    this.node.setAttribute('role', 'list');
  }

  show({ accelerometer, faces_shown: faces, face, faces_wanted: wanted, off_and_on: offAndOn }) {
    this.node.hidden = !accelerometer;
    if (!accelerometer) return;
    const named = faces.every((f) => f.up) && faces.length <= UNFOLDED.length;
    flag(this.node, 'data-unfolded', named);
    const cells = named ? UNFOLDED.map((up) => [up, faces.find((f) => f.up === up)])
      : Array.from({ length: Math.max(wanted, faces.length) }, (_, i) => [String(i + 1), faces[i]]);
    const nodes = cells.map(([key, f]) => this.#cell(key, { side: named ? key : '', face: f, now: face, offAndOn }));
    if (this.node.children.length !== nodes.length || nodes.some((n, i) => this.node.children[i] !== n)) this.node.replaceChildren(...nodes);
  }

  #cell(key, { side, face, now, offAndOn }) {
    if (!this.#cells.has(key)) this.#cells.set(key, element('li', ''));
    const node = this.#cells.get(key);
    const state = !face ? 'left' : face.face === now ? 'now' : face.done ? 'done' : 'again';
    const off = face && offAndOn.includes(face.face);
    const wanted = [state, side, face?.face, off].join(' ');
    if (node.dataset.key === wanted) return node;
    node.dataset.key = wanted;
    setAttributes(node, { 'data-face': state, 'data-side': side });
    node.replaceChildren(...parts(state, side || key, face, off));
    return node;
  }
}

/** What is done is ticked; the word stands in the others. */
function parts(state, name, face, off) {
  const number = face && name !== String(face.face) ? ` · ${face.face}` : '';
  const word = state === 'done' ? [element('b', '', '✓'), element('span', 'unseen', ' done')] : [element('b', '', state === 'left' ? '' : WORDS[state]),
    element('span', 'unseen', state === 'left' ? ' to come' : '')];
  return [...word, ' ', element('small', '', `${name.replace('-', '−')}${number}`), ...(off ? [' ', element('small', 'off-and-on', 'off/on')] : [])];
}

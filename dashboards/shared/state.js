// A tracker's state as a word with its shape.
import { element } from '../js/nodes.js';
import { shape } from '../js/shapes.js';

export function stateWord(state) {
  const node = element('span', 'state', shape(state), state);
  node.dataset.state = state;
  return node;
}

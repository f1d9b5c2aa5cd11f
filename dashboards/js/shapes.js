// One shape a state, told apart by outline alone: by people who see no colours, and across the room.
import { drawn } from './nodes.js';

const STROKE = { fill: 'none', stroke: 'currentColor', 'stroke-width': 3, 'stroke-linejoin': 'round', 'stroke-linecap': 'butt' };
const FILL = { fill: 'currentColor', 'fill-rule': 'evenodd' };
const ring = 'M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18z';

const SHAPES = {
  // a full disc with a tick cut out
  ready: [['M12 1a11 11 0 1 0 0 22a11 11 0 1 0 0-22zM6.2 12.2l2-2 2.7 2.7 5-5.4 2.1 2-7.1 7.6z', FILL]],
  // a disc filling up
  soaking: [[ring, STROKE], ['M12 3a9 9 0 0 1 0 18z', FILL]],
  warming: [['M3 13l9-9 9 9M3 21l9-9 9 9', STROKE]],
  cooling: [['M3 3l9 9 9-9M3 11l9 9 9-9', STROKE]],
  // a curve that levels off under a line
  stalled: [['M2 4h20', STROKE], ['M2 21c4-8 8-10 20-10', STROKE]],
  hot: [['M12 1l11.5 21H.5zM10.6 8h2.8l-.5 7h-1.8zM10.6 16.6h2.8v2.8h-2.8z', FILL]],
  disturbed: [['M1 12c2.6-11 5-11 7.3 0s4.8 11 7.3 0 4.7-11 7.3 0', STROKE]],
  silent: [[ring, { ...STROKE, 'stroke-dasharray': '4 4.08' }]],
  undecided: [['M12 1.8l10.2 10.2-10.2 10.2L1.8 12z', STROKE], ['M12 8v8', STROKE]],
  // what a calibration check says
  keep: [['M3 13l6 6L21 5', STROKE]],
  do_again: [['M19.5 8A8.5 8.5 0 1 0 20.5 13', STROKE], ['M21.5 2v8h-8z', FILL]],
  unknown: [['M12 1.8l10.2 10.2-10.2 10.2L1.8 12z', STROKE]],
  question: [['M6 8a6 6 0 1 1 8.6 5.4c-1.8.9-2.6 1.7-2.6 3.6M12 19v3.4', STROKE]],
  checking: [[ring, { ...STROKE, 'stroke-dasharray': '4 4.08' }], ['M12 7v5.5l4 2.5', STROKE]],
  undone: [['M5 5l14 14M19 5L5 19', STROKE]],
  starting: [['M3.5 12h.1M12 12h.1M20.5 12h.1', { ...STROKE, 'stroke-width': 5, 'stroke-linecap': 'round' }]],
};

/** A small drawing for a state, or for what became of a calibration; the word beside it says the same, so readers of the page aloud skip it. */
export function shape(state) {
  const svg = drawn('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true', class: 'shape', focusable: 'false' });
  for (const [d, style] of SHAPES[state] ?? SHAPES.starting) svg.append(drawn('path', { d, ...style }));
  return svg;
}

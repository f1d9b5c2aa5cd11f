// The temperatures among the limits on one scale, as they hold and as they are proposed.
import { drawn } from '../../js/nodes.js';
import { number } from '../../js/words.js';

const HEIGHT = 96;
const AXIS_Y = 64;
const BAND = { top: 34, height: 30 };

/** Draws the limits in force, and with dashes the proposed ones where they differ, into an svg of that width, px. */
export function scale(svg, inForce, proposed) {
  const width = svg.clientWidth || 600;
  const all = [inForce, proposed].flatMap((l) => [l.band_low_c, l.band_high_c, l.hot_c]).filter(Number.isFinite);
  const low = Math.floor((Math.min(...all) - 8) / 5) * 5;
  const high = Math.ceil((Math.max(...all) + 4) / 5) * 5;
  const x = (c) => 12 + (c - low) / (high - low) * (width - 24);
  const nodes = [drawn('path', { d: `M${x(low)} ${AXIS_Y}H${x(high)}`, class: 'axis' })];
  for (let c = low; c <= high; c += 5) nodes.push(drawn('path', { d: `M${x(c)} ${AXIS_Y}v5`, class: 'axis' }), text(x(c), 84, number(c, 0)));
  nodes.push(...marks(inForce, x), ...proposals(inForce, proposed, x), ...names(inForce, x));
  svg.setAttribute('viewBox', `0 0 ${width} ${HEIGHT}`);
  svg.replaceChildren(...nodes);
}

function marks({ band_low_c: low, band_high_c: high, use_temperature_c: use, hot_c: hot }, x) {
  return [
    drawn('rect', { x: x(low), y: BAND.top, width: x(high) - x(low), height: BAND.height, class: 'band' }),
    drawn('path', { d: `M${x(use)} ${BAND.top}V${AXIS_Y}`, class: 'use' }),
    drawn('path', { d: `M${x(hot)} ${BAND.top - 4}V${AXIS_Y}`, class: 'hot' }),
  ];
}

/** Only what differs, a little taller. */
function proposals(inForce, proposed, x) {
  const differs = (...keys) => keys.some((key) => inForce[key] !== proposed[key] && Number.isFinite(proposed[key]));
  const { band_low_c: low, band_high_c: high } = proposed;
  const nodes = [];
  if (differs('band_low_c', 'band_high_c') && low < high) nodes.push(drawn('rect', { x: x(low), y: BAND.top - 6, width: x(high) - x(low), height: BAND.height + 6, class: 'proposed' }));
  for (const key of ['use_temperature_c', 'hot_c']) if (differs(key)) nodes.push(drawn('path', { d: `M${x(proposed[key])} ${BAND.top - 8}V${AXIS_Y}`, class: 'proposed' }));
  return nodes;
}

function names({ band_low_c: low, band_high_c: high, use_temperature_c: use, hot_c: hot }, x) {
  return [text(x((low + high) / 2), 20, 'operating band'), text(x(hot), 20, 'hot'), text(x(use) + 5, 54, 'use', 'start')];
}

function text(x, y, words, anchor = 'middle') {
  const node = drawn('text', { x, y, 'text-anchor': anchor });
  node.textContent = words;
  return node;
}

// One tracker's tile. Made once, then changed in place, so that focus and selection survive.
import { goodNow } from './calibrated.js';
import { CalibrationLine } from './calibration-line.js';
import { binding, figures, label, named, outside } from './condition.js';
import { gauge } from './gauge.js';
import { large, small } from './moment.js';
import { element, flag, setAttributes, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';
import { TakenOff } from './taken-off.js';
import { number, pretty, sentence, signed } from './words.js';

// What is said of a ready tracker in place of the service's advice, which knows of no calibration.
const STEPS = {
  keep: 'Calibrated and checked: nothing is left to do.',
  check: 'Calibrated: leave it alone until the check is done.',
  answer: 'Say below whether it was calibrated.',
  decide: 'Calibrated, but the check can’t tell whether it took: keep it or do it again.',
};
const GOOD_NOW = 'Calibrated and good now, but not known well enough in use: keep it or do it again.';
const CAUTION = 'Uncover it now and stay with it. The cell maker’s instructions go first.';

/** The id of a tracker's tile in the page. */
export function tileId(trackerId) {
  return `tracker-${trackerId}`;
}

/** A list item with the tile in it; {@code update(view, {scale, lost, withRack})} shows a verdict; {@code calibrating} is what its buttons do. */
export function tile(trackerId, calibrating) {
  const id = tileId(trackerId);
  const parts = skeleton(id, new CalibrationLine(calibrating), new TakenOff(calibrating.takenOff));
  const item = element('li', '', parts.article);
  return { item, update: (view, context) => update(parts, view, context) };
}

function skeleton(id, calibration, takenOff) {
  const name = element('span', 'name');
  const place = element('small', '');
  const word = element('strong', 'word');
  const p = {
    name, place, word, calibration, takenOff, gauge: gauge(),
    heading: element('h3', '', name, place), temperature: element('p', 'temperature'),
    moment: element('span', 'moment'), when: element('p', 'when'), binding: element('p', 'binding'),
    caution: element('p', 'caution', CAUTION), advice: element('p', 'advice'), state: element('p', 'state'),
    bare: element('p', 'binding'),
  };
  p.article = element('article', 'tile', element('div', 'tile-head', p.heading, p.temperature), p.state, p.caution,
    p.when, p.gauge.svg, p.binding, p.bare, p.advice, p.takenOff.node, p.calibration.node);
  name.id = `${id}-name`;
  word.id = `${id}-word`;
  setAttributes(p.article, { id, tabindex: -1, 'aria-labelledby': `${name.id} ${word.id}` });
  return p;
}

function update(p, view, { scale, lost, withRack }) {
  const { state, readiness } = view;
  setText(p.name, view.name);
  p.name.title = view.name;
  setText(p.place, place(view, withRack));
  setParts(p.temperature, temperature(readiness));
  showState(p, state);
  setParts(p.moment, large(view));
  setParts(p.when, small(view));
  p.gauge.update(readiness, scale);
  setParts(p.binding, bindingParts(readiness));
  setParts(p.bare, bareParts(view));
  p.caution.hidden = state !== 'hot';
  setParts(p.advice, adviceParts(view, view.old || lost));
  p.takenOff.update(view);
  p.calibration.update(view);
  flag(p.article, 'data-old', view.old || lost);
  flag(p.article, 'data-calls', state === 'hot' || (view.step === 'calibrate' && !view.old && !lost));
}

function showState(p, state) {
  if (p.article.dataset.state === state) return;
  p.article.dataset.state = state;
  setText(p.word, state);
  p.state.replaceChildren(shape(state), p.word, p.moment);
}

function place({ id, name, rack, slot }, withRack) {
  const parts = [];
  if (withRack && rack) parts.push(rack);
  if (slot) parts.push(`slot ${slot}`);
  if (!parts.length && name !== id) parts.push(id);
  return parts.join(', ');
}

function temperature({ temperature_c: c, temperature_rate_c_per_min: rate }) {
  if (typeof c !== 'number') return ['no temperature yet'];
  const parts = [element('b', '', number(c, 1)), ' °C'];
  if (typeof rate === 'number') parts.push(` ${signed(rate, 2)}`, element('span', 'degree', '\u00a0°C'), '/min');
  return parts;
}

function bindingParts(readiness) {
  if (readiness.state === 'silent') return [];
  const condition = binding(readiness);
  if (!condition || (readiness.state === 'ready' && condition.value !== null)) return [];
  // The line of advice says better what can't be seen at all.
  if (readiness.state === 'undecided' && condition.value === null) return [];
  const told = condition.value === null && advised(readiness, condition);
  const lead = readiness.state === 'ready' ? '' : 'waits for ';
  return [lead, element('b', '', label(condition)), told ? '' : `: ${figures(condition)}`];
}

/** How long it may lie in the open; only told when somebody is about to uncover it. */
function bareParts({ step, readiness }) {
  const atMost = readiness.unwrapped?.time_s?.low;
  if (step !== 'calibrate' || typeof atMost !== 'number') return [];
  return ['uncovered: at most ', element('b', '', `${Math.floor(atMost)} s`), ' until its bias moves'];
}

function stepWords({ step, mark }) {
  return step === 'decide' && mark?.check && goodNow(mark.check) ? GOOD_NOW : STEPS[step];
}

function adviceParts(view, old) {
  const { state, step, readiness, power } = view;
  if (old && state === 'ready') return ['Old: wait for a newer verdict before you calibrate.'];
  const parts = repeats(readiness) ? [] : [stepWords(view) ?? sentence(pretty(readiness.advice))];
  if (step === 'calibrate' && readiness.moved_since_check) parts.unshift('Moved since its check. ');
  if (power === 'usb') parts.unshift(element('span', 'power', 'on USB: leave it uncovered'), ' ');
  return parts;
}

/** Whether the line of advice only says again what the caution or the binding condition says with more detail. */
function repeats(readiness) {
  if (readiness.state === 'hot') return named(readiness, 'not_hot')?.met === false;
  const condition = binding(readiness);
  const inFull = readiness.state === 'soaking' && condition?.name === 'heard';
  return advised(readiness, condition) && (inFull || (condition.name === 'temperature_settled' && outside(condition)));
}

function advised(readiness, condition) {
  return Boolean(condition) && readiness.advice_repeats.includes(condition.name);
}

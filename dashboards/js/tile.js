// One tracker's tile. Made once, then changed in place, so that focus and selection survive. The same parts make the full
// tile, the compact one and a line of the list: the style sheet leaves out what the form has no room for.
import { ofRack } from '../shared/rack.js';
import { goodNow } from './calibrated.js';
import { CalibrationLine } from './calibration-line.js';
import { gauge } from './gauge.js';
import { large, small } from './moment.js';
import { element, flag, setAttributes, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';
import { TakenOff } from './taken-off.js';
import { calls } from './view.js';
import { number, pretty, sentence } from './words.js';

// What is said of a ready tracker in place of the service's advice, which knows of no calibration.
const STEPS = {
  calibrate: 'Calibrate it now.',
  keep: 'Calibrated and checked: nothing is left to do.',
  check: 'Calibrated: leave it alone until the check is done.',
  answer: 'Say below whether it was calibrated.',
  decide: 'Calibrated, but the check can’t tell whether it took: keep it or do it again.',
};
// In the small forms the word of a tracker that is calibrated says so; a question is asked there too.
const SHORT = { keep: 'calibrated', check: 'being checked', answer: 'calibrated?', decide: 'keep?' };
// Who is calibrated and no longer heard was taken off most likely: one tap says so.
const OFF = 'taken off?';
const OFF_ADVICE = 'Calibrated, then nothing more heard. If it was taken off, say so; else look at it.';
const SHAPES = { keep: 'keep', check: 'checking', answer: 'question', decide: 'unknown' };
const GOOD_NOW = 'Calibrated and good now, but not known well enough in use: keep it or do it again.';
const CAUTION = 'Uncover it now and stay with it. The cell maker’s instructions go first.';

/** The id of a tracker's tile in the page. */
export function tileId(trackerId) {
  return `tracker-${trackerId}`;
}

/** Where the page of one tracker is. */
export function trackerPage(trackerId) {
  return ofRack(`/tracker/${encodeURIComponent(trackerId)}`);
}

/** A list item with the tile in it; {@code update(view, {scale, lost, withRack})} shows a verdict; {@code calibrating} is what its buttons do. */
export function tile(trackerId, calibrating) {
  const parts = skeleton(trackerId, new CalibrationLine(calibrating), new TakenOff(calibrating.takenOff));
  const item = element('li', '', parts.article);
  let shown = null;
  const show = (view, context) => {
    shown = [view, context];
    update(parts, view, context);
  };
  parts.more.addEventListener('click', () => {
    toggle(parts);
    show(...shown);
  });
  return { item, update: show };
}

function skeleton(trackerId, calibration, takenOff) {
  const id = tileId(trackerId);
  const name = element('a', 'name');
  const word = element('strong', 'word');
  const p = {
    name, word, calibration, takenOff, gauge: gauge(), slot: element('span', 'slot'), rack: element('small', ''),
    ring: element('span', 'order'), held: element('span', 'held'), temperature: element('p', 'temperature'), moment: element('span', 'moment'),
    when: element('p', 'when'), caution: element('p', 'caution', CAUTION), advice: element('p', 'advice'), state: element('p', 'state'),
    more: more(),
  };
  p.heading = element('h3', '', name, ' ', p.slot, ' ', p.rack);
  p.article = element('article', 'tile', element('div', 'tile-head', p.heading, p.held, p.ring, p.more), p.state, p.temperature, p.caution,
    p.when, p.gauge.svg, p.advice, p.takenOff.node, p.calibration.node);
  name.id = `${id}-name`;
  word.id = `${id}-word`;
  name.href = trackerPage(trackerId);
  setAttributes(p.article, { id, tabindex: -1, 'aria-labelledby': `${name.id} ${word.id}` });
  return p;
}

/** Opens what a small form leaves out. */
function more() {
  const button = element('button', 'more', element('span', 'unseen', 'More'));
  button.type = 'button';
  setAttributes(button, { 'aria-expanded': false });
  return button;
}

/** Opens to the side that has room. */
function toggle({ article, more: button }) {
  const { left } = article.getBoundingClientRect();
  flag(article, 'data-edge', left > innerWidth / 2);
  setAttributes(button, { 'aria-expanded': article.toggleAttribute('data-open') });
}

function update(p, view, context) {
  brief(p, view, context);
  const whole = context.form === 'full' || p.article.hasAttribute('data-open');
  if (whole || context.form !== 'list') p.gauge.update(view.readiness, context.scale);
  if (whole) rest(p, view, view.old || context.lost);
  if (whole || view.mark) p.calibration.update(view);
}

/** What no form leaves out. */
function brief(p, view, { lost, withRack, held }) {
  const { readiness } = view;
  setText(p.name, view.name);
  setText(p.slot, view.slot || (view.name === view.id || (withRack && view.rack) ? '' : view.id));
  setText(p.rack, withRack ? view.rack : '');
  p.heading.style.setProperty('--len', Math.max(6, view.name.length + view.slot.length + 1));
  setParts(p.temperature, temperature(readiness));
  setParts(p.moment, large(view));
  showState(p, view);
  const called = calls(view, lost);
  setText(p.ring, called && view.order ? String(view.order) : '');
  setAttributes(p.ring, { 'aria-label': called && view.order ? `taken ${view.order}` : '' });
  flag(p.article, 'data-old', view.old || lost);
  flag(p.article, 'data-calls', called);
  flag(p.article, 'data-held', held);
  setText(p.held, held ? 'this one' : '');
  flag(p.article, 'data-asks', view.mark?.status === 'question' && view.step !== 'calibrate');
  flag(p.article, 'data-off', offLikely(view));
  p.takenOff.update(view);
  setAttributes(p.more, { 'aria-label': `More of ${view.name}` });
}

/** What only a full or an opened tile has room for. */
function rest(p, view, old) {
  setParts(p.when, small(view));
  p.caution.hidden = view.state !== 'hot';
  setParts(p.advice, adviceParts(view, old));
}

function offLikely({ state, step }) {
  return state === 'silent' && step === 'keep';
}

function showState(p, { state, step }) {
  const short = state === 'ready' ? SHORT[step] ?? '' : offLikely({ state, step }) ? OFF : '';
  const key = `${state} ${short}`;
  if (p.article.dataset.key === key) return;
  p.article.dataset.key = key;
  p.article.dataset.state = state;
  flag(p.article, 'data-done', short);
  setText(p.word, short || state);
  p.state.replaceChildren(shape(short ? SHAPES[step] : state), p.word, p.moment);
}

function temperature({ temperature_c: c }) {
  return typeof c === 'number' ? [element('b', '', number(c, 1)), ' °C'] : ['no temperature yet'];
}

function stepWords({ step, mark }) {
  return step === 'decide' && mark?.check && goodNow(mark.check) ? GOOD_NOW : STEPS[step];
}

function adviceParts(view, old) {
  const { state, step, readiness, power } = view;
  if (offLikely(view)) return [OFF_ADVICE];
  if (old && state === 'ready') return ['Old: wait for a newer verdict before you calibrate.'];
  const parts = state === 'hot' && readiness.advice_repeats.includes('not_hot') ? [heat(readiness)] : [stepWords(view) ?? sentence(pretty(readiness.advice))];
  if (step === 'calibrate' && readiness.moved_since_check) parts.unshift('Moved since its check. ');
  if (step === 'calibrate') parts.push(holds(readiness));
  if (power === 'usb') parts.unshift(element('span', 'power', 'on USB: leave it uncovered'), ' ');
  return parts;
}

/** What is too hot, by its reason: what to do is said by the caution. */
function heat({ heat: found, advice }) {
  return sentence(pretty(found?.reason ?? advice));
}

/** How long it may lie in the open, for who is about to uncover it; empty where nothing is known. */
export function holds({ unwrapped }) {
  const atMost = unwrapped?.time_s?.low;
  return typeof atMost === 'number' ? ` Once lifted, its bias holds for about ${Math.floor(atMost)}\u00a0s.` : '';
}

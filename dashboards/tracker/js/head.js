// Who it is, what it does now, and the next step.
import { change } from '../../js/request.js';
import { element, flag, setParts, setText } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { age, clock, day, number, pretty, sameDay, sentence } from '../../js/words.js';
import { at, trackerPage, trackerPath } from './service.js';

const STEPS = {
  calibrate: 'Calibrate it now.',
  keep: 'Calibrated and checked: nothing is left to do.', check: 'Calibrated: leave it alone until the check is done.',
  answer: 'Was it calibrated?', decide: 'Calibrated, but the check can’t tell whether it took: keep it or do it again.',
};
const RATES = { raw: 'raw rates', constant: 'rates with a constant taken off', follows: 'rates that follow drift' };
const POWER = { battery: 'on battery', usb: 'on USB: leave it uncovered' };

export class Head {
  #id;
  #marked;
  #name = element('h1', '');
  #place = element('span', 'place');
  #who = element('p', 'who');
  #slab = element('div', 'slab');
  #refused = element('p', 'refused');
  #button = element('button', '', 'Calibrated now');

  /** {@code marked()} hears that a calibration was told. */
  constructor(place, id, marked) {
    this.#id = id;
    this.#marked = marked;
    this.#button.type = 'button';
    this.#button.addEventListener('click', () => this.#calibrated());
    this.#refused.setAttribute('role', 'alert');
    place.replaceChildren(element('div', 'named', element('div', 'title', this.#name, this.#place), this.#who), this.#slab, this.#refused);
  }

  /** {roster, readiness, soak, old, hz, lastS, earlier}; {@code earlier} says that the soak is not its newest. */
  show({ roster, readiness, soak, old, hz, lastS, earlier = false }) {
    const name = roster?.name || readiness?.name || soak?.name || this.#id;
    setText(this.#name, name);
    document.title = `${name}${readiness ? ` ${readiness.state}` : ''} · Soakbench`;
    setText(this.#place, [roster?.slot && `slot ${roster.slot}`, roster?.rack].filter(Boolean).join(', '));
    setText(this.#who, [name === this.#id ? null : this.#id, roster?.lot && `lot ${roster.lot}`, POWER[roster?.power], RATES[roster?.rates],
      hz && `${Math.round(hz)} samples a second`].filter(Boolean).join(', '));
    this.#state(earlier ? null : readiness, old, lastS, earlier);
  }

  #state(readiness, old, lastS, earlier) {
    const state = readiness?.state ?? (earlier ? 'starting' : 'silent');
    this.#slab.dataset.state = state;
    const calls = state === 'hot' || (readiness?.next_step === 'calibrate' && !old);
    flag(this.#slab, 'data-calls', calls);
    flag(this.#slab, 'data-old', old || state === 'silent');
    const word = element('p', 'word', shape(state), element('b', '', readiness ? state : earlier ? 'earlier soak' : lastS ? 'not soaking' : 'not heard'));
    const step = element('p', 'step', ...(readiness ? advice(readiness, old) : earlier ? this.#leadOn(lastS) : notSoaking(lastS)));
    const figures = element('p', 'now', ...now(readiness));
    this.#button.hidden = !readiness || state === 'silent' || !['calibrate', 'answer', 'decide'].includes(readiness.next_step);
    // The button keeps its node, so that a focused one stays focused.
    if (this.#slab.contains(this.#button)) this.#slab.firstChild.replaceChildren(word, element('div', 'say', step, figures));
    else this.#slab.replaceChildren(element('div', 'said', word, element('div', 'say', step, figures)), this.#button);
  }

  #leadOn(lastS) {
    const newest = element('a', '', 'Its newest soak');
    newest.href = trackerPage(this.#id);
    return [`What you see ended ${day(lastS * 1000)}, ${clock(lastS * 1000)}. `, newest, ' says how it is now.'];
  }

  async #calibrated() {
    const { refusal } = await change('POST', at(trackerPath(this.#id, '/calibrations')), {});
    setText(this.#refused, refusal ? `Not noted: ${refusal}` : '');
    if (!refusal) this.#marked();
  }
}

function advice({ state, next_step: step, advice: text, before }, old) {
  if (state === 'hot') return [element('b', '', 'Uncover it now and stay with it. '), sentence(pretty(text))];
  if (old) return ['Old: wait for a newer verdict before you act on it.'];
  const lead = before ? `${sentence(before)} until then. ` : '';
  return [element('b', '', `${lead}${STEPS[step] ?? sentence(pretty(text))}`)];
}

function now(readiness) {
  if (typeof readiness?.temperature_c !== 'number') return [];
  const parts = [`${number(readiness.temperature_c, 1)} °C`];
  const open = readiness.unwrapped?.time_s;
  if (readiness.state === 'ready' && typeof open?.low === 'number') parts.push(`; opened, its bias holds for at least ${Math.floor(open.low)} s`);
  if (readiness.ready_at) parts.push(`; expected ready at ${clock(Date.parse(readiness.ready_at.expected))}`);
  return parts;
}

function notSoaking(lastS) {
  if (!lastS) return ['Nothing is heard of it.'];
  const ms = lastS * 1000;
  const when = sameDay(ms, Date.now()) ? clock(ms) : `${day(ms)} ${clock(ms)}`;
  return [element('b', '', `Last heard ${age((Date.now() - ms) / 1000)} ago, ${when}. `), 'What you see is its last soak. Switch it on and lay it on the rack: a new soak begins here by itself.'];
}

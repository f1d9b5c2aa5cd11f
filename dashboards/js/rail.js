// The line of time: who is expected when, and how sure that is.
import { lanes } from './lanes.js';
import { range } from './moment.js';
import { element, flag, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';
import { tileId } from './tile.js';
import { clock } from './words.js';

const MINUTE_MS = 60_000;
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440];
const LEAST_SPAN_MS = 10 * MINUTE_MS;
const TICK_PX = 84;
const READY = 'ready now';

export class Rail {
  #place;
  #axis = element('div', '');
  #list = element('ol', '');
  #later = element('p', 'unseen');
  #items = new Map();

  constructor(place) {
    this.#place = place;
    this.#axis.setAttribute('aria-hidden', 'true');
    this.#list.setAttribute('aria-label', 'Expected ready times');
    place.append(this.#axis, this.#list, this.#later);
  }

  /**
   * Shows who is expected; hidden while nobody is. Those of the sentence have names, later ones are ticks with a count. Links
   * keep their focus, for they are changed in place.
   */
  show(groups, nowMs) {
    const coming = [...groups.soon, ...groups.later];
    this.#place.hidden = !coming.length;
    if (!coming.length) return;
    const px = Math.max(200, this.#place.clientWidth);
    const span = spanOf(coming, nowMs);
    const at = (ms) => Math.max(0, Math.min(1, (ms - nowMs) / span)) * px;
    const marks = marksOf(groups.ready, groups.soon, at);
    const laid = lanes(marks, px);
    this.#place.toggleAttribute('data-dense', laid.dense);
    this.#place.style.setProperty('--lanes', laid.count);
    setParts(this.#axis, [...ticks(nowMs, span, px), ...laterMarks(groups.later, at, px)]);
    this.#placeTicks();
    this.#showMarks(marks, laid, nowMs);
    setText(this.#later, groups.later.length ? laterWords(groups.later) : '');
  }

  /** Positions are set as style properties, which a strict content policy allows, and not as style attributes. */
  #placeTicks() {
    for (const tick of this.#axis.querySelectorAll('[data-px]')) setPx(tick, { '--at': Number(tick.dataset.px) });
  }

  #showMarks(marks, { rows, names }, nowMs) {
    const keys = new Set(marks.map((mark) => mark.key));
    for (const [key, node] of this.#items) if (!keys.has(key)) { node.remove(); this.#items.delete(key); }
    marks.forEach((mark, i) => {
      const node = this.#item(mark.key);
      if (this.#list.children[i] !== node) this.#list.insertBefore(node, this.#list.children[i] ?? null);
      showMark(node, mark, rows[i], names[i], nowMs);
    });
  }

  #item(key) {
    if (!this.#items.has(key)) {
      const link = element('a', 'mark', element('span', 'picture'), element('span', 'name'), element('span', 'unseen'));
      this.#items.set(key, element('li', '', element('span', 'span'), link));
    }
    return this.#items.get(key);
  }
}

/** To the last end of an interval, but not so far that the rest is squeezed together. */
function spanOf(coming, nowMs) {
  const last = Math.max(...coming.map((v) => v.readyAt.latestMs)) - nowMs;
  const lastExpected = Math.max(...coming.map((v) => v.readyAt.expectedMs)) - nowMs;
  return Math.max(LEAST_SPAN_MS, Math.min(1.03 * last, 1.6 * lastExpected));
}

function marksOf(ready, coming, at) {
  const marks = coming.map((view) => ({
    key: view.id, view, state: view.state, name: view.name,
    at: at(view.readyAt.expectedMs), from: at(view.readyAt.earliestMs), to: at(view.readyAt.latestMs),
  }));
  if (ready.length) {
    marks.unshift({ key: READY, view: ready[0], state: 'ready', name: `${ready.length} ready`, at: 0, from: 0, to: 0 });
  }
  return marks;
}

function showMark(node, { key, view, state, name, at, from, to }, row, place, nowMs) {
  const link = node.lastElementChild;
  const [picture, label, spoken] = link.children;
  if (node.dataset.state !== state) picture.replaceChildren(shape(state));
  node.dataset.state = state;
  link.setAttribute('href', `#${tileId(view.id)}`);
  setText(label, name);
  setParts(spoken, key === READY ? [' now'] : expectation(view, nowMs));
  link.title = link.textContent;
  setPx(node, { '--at': at, '--from': from, '--to': to, '--name-at': place.at, '--name-px': place.px });
  flag(node, 'data-before', place.before);
  node.style.setProperty('--row', row);
}

function expectation({ state, readyAt }, nowMs) {
  const { expectedMs, earliestMs, latestMs } = readyAt;
  return [`: ${state}, expected ready ${clock(expectedMs)}, `, ...range(earliestMs, latestMs, nowMs)];
}

function ticks(nowMs, span, px) {
  const stepMs = MINUTE_MS * (STEPS_MIN.find((m) => (m * MINUTE_MS / span) * px >= TICK_PX) ?? STEPS_MIN.at(-1));
  const nodes = [element('div', 'axis'), tick(0, 'now')];
  for (let ms = Math.ceil(nowMs / stepMs) * stepMs; ms <= nowMs + span; ms += stepMs) {
    const x = (ms - nowMs) / span * px;
    if (x > 90 && x < px - 18) nodes.push(tick(x, clock(ms)));
  }
  return nodes;
}

function tick(x, words) {
  const node = element('div', 'tick', element('span', '', words));
  node.dataset.px = x.toFixed(1);
  return node;
}

/** A thin mark for each, and their count over the middle of them. */
function laterMarks(later, at, px) {
  if (!later.length) return [];
  const places = later.map((view) => at(view.readyAt.expectedMs));
  const words = element('div', 'later-count', element('span', '', laterWords(later)));
  words.dataset.px = Math.max(90, Math.min(px - 90, (places[0] + places.at(-1)) / 2)).toFixed(1);
  return [...places.map((x, i) => {
    const node = element('div', 'later');
    node.dataset.px = x.toFixed(1);
    node.dataset.state = later[i].state;
    return node;
  }), words];
}

function laterWords(later) {
  const [first, last] = [later[0], later.at(-1)].map((view) => clock(view.readyAt.expectedMs));
  return later.length === 1 ? `1 more at ${first}` : `${later.length} more, ${first} to ${last}`;
}

function setPx(node, values) {
  for (const [name, px] of Object.entries(values)) node.style.setProperty(name, `${px.toFixed(1)}px`);
}

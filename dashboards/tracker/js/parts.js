// The parts of the page below its head, in the order in which they are read.
import { element, setParts } from '../../js/nodes.js';
import { clock, day, number, pretty, signed } from '../../js/words.js';
import { Bias } from './bias.js';
import { ChecksPart } from './checks.js';
import { Conditions } from './conditions.js';
import { bare, known } from './estimate.js';
import { HeadingPart } from './heading.js';
import { NoisePart } from './noise.js';
import { Soaks } from './soaks.js';
import { Story } from './story.js';
import { Terms } from './terms.js';

const AHEAD_S = 600;
const AHEAD_SHARE = 0.12;

export class Parts {
  #data;
  #story;
  #conditions;
  #bias;
  #noise;
  #heading;
  #soaks;
  #checks;
  #terms;
  #shown = new Map();

  constructor(place, data) {
    this.#data = data;
    this.#story = new Story(place, (from, to, points) => data.stretch(from, to, points));
    this.#conditions = new Conditions(place);
    this.#bias = new Bias(place);
    const pair = element('div', 'pair');
    const last = element('div', 'pair');
    this.#noise = new NoisePart(pair);
    this.#heading = new HeadingPart(pair);
    place.append(pair);
    this.#soaks = new Soaks(place);
    this.#checks = new ChecksPart(last);
    this.#terms = new Terms(last);
    place.append(last);
    data.points = this.#story.points;
  }

  /** Shows what is new since it was last called. */
  show() {
    const d = this.#data;
    const { soak, tracker } = d.soak;
    const file = `${tracker}-${d.soak.start.replace(/[:.]/g, '')}`;
    changed(d.changes, d.difference, d.soak.left_out);
    this.#conditions.show(d.readiness);
    this.#course(d);
    this.#new('bias', [d.curve, d.limits], () => d.curve && this.#bias.show(d.curve, d.limits, file));
    this.#new('noise', [d.noise], () => d.noise && this.#noise.show(d.noise, file));
    this.#new('heading', [d.heading, d.readiness?.unwrapped.reason, d.readiness?.unwrapped.time_s.value], () => d.heading && this.#heading.show(d.heading, d.readiness?.unwrapped, file));
    this.#new('soaks', [d.soaks, soak], () => this.#soaks.show(tracker, d.soaks, soak, d.limits, d.together));
    this.#new('checks', [d.marks], () => this.#checks.show(d.marks, tracker));
    this.#new('terms', [d.soak, d.limits, d.warmUp, d.curve, d.readiness?.unwrapped.reason], () => this.#terms.show({ ...d, note: d.roster?.note, soak: d.soak, readiness: d.readiness, limits: d.limits, warmUp: d.warmUp, curve: d.curve }, file));
  }

  /** Drawn anew only where something is new, or now has moved by a px; its values are told each time. */
  #course(d) {
    if (!d.columns) return;
    const told = this.#told(d);
    const step = Math.floor(told.nowS / Math.max(1, (told.range[1] - told.range[0]) / this.#story.points));
    if (this.#shown.get('story')) this.#story.tell(told);
    this.#new('story', [d.columns, d.timeline, d.warmUp, d.marks, d.limits, step], () => this.#story.show(told, d.columns));
  }

  #told(d) {
    const nowS = d.soak.ended || !d.readiness ? d.lastS : d.nowMs / 1000;
    const startS = Date.parse(d.soak.start) / 1000;
    const latest = d.readiness?.ready_at ? Date.parse(d.readiness.ready_at.latest) / 1000 : 0;
    const lived = nowS - startS;
    const ahead = d.soak.ended ? 0 : Math.max(AHEAD_S / 2, AHEAD_SHARE * lived, Math.min(1.3 * (latest - nowS), 2 * lived));
    const marks = d.marks.filter((m) => m.soak === d.soak.soak);
    return { soak: d.soak, limits: d.limits, timeline: d.timeline, warmUp: d.warmUp, marks, readiness: d.readiness, columns: d.columns, nowS, range: [startS, nowS + ahead] };
  }

  /** Draws a part only where what it shows is another. */
  #new(name, on, draw) {
    const before = this.#shown.get(name);
    if (before && before.every((value, i) => value === on[i])) return;
    this.#shown.set(name, on);
    draw();
  }
}

function changed(changes, difference, leftOut) {
  const place = document.getElementById('changed');
  place.hidden = !changes && !leftOut;
  if (leftOut) setParts(place, [element('b', '', 'Left out of the tracker’s figures: '), `${leftOut}. Its own figures are below.`]);
  if (!changes || leftOut) return;
  const at = Date.parse(changes.start);
  setParts(place, [element('b', '', `Since the soak of ${day(at)}, ${clock(at)}: `), `${pretty(changes.words)}.`, ...slopes(difference)]);
}

/** What each axis's coefficient is more than in the soak before, at one temperature. */
function slopes(difference) {
  const axes = difference?.axes.filter((axis) => known(axis.tempco_difference_dps_per_c)) ?? [];
  if (!axes.length) return [];
  const told = axes.map((axis) => `${axis.axis} ${bare(axis.tempco_difference_dps_per_c, 4, signed)}`).join(', ');
  const outside = difference.extrapolated ? ', beyond what both covered' : '';
  return [element('span', 'quiet', ` Coefficients, this soak less that one, at ${number(difference.at_c, 1)} °C${outside}: ${told} °/s per °C.`)];
}

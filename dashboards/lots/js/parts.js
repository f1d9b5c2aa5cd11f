// The parts of a comparison below its head, in the order in which they are read.
import { Chart } from '../../charts/chart.js';
import { Figure } from '../../charts/figure.js';
import { element, setParts } from '../../js/nodes.js';
import { sentence } from '../../js/words.js';
import { blocksToTake, blockTable, blockWords } from './blocks.js';
import { axesOf, commonSpan, curvesPicture, CURVES_SPEC, curvesToTake, curvesWords } from './curves.js';
import { dotsPicture, rowsOf } from './dots.js';
import { partsOf, printed, title } from './metrics.js';
import { numberRows, numbersTable, numbersToTake } from './numbers.js';
import { powerPicture, powerWords } from './power.js';
import { spreadPicture, SPREAD_SPEC } from './spread.js';
import { inOrder, UnitTable, unitsToTake } from './units.js';
import { countsOf } from './verdict.js';
import { anyWarmUp, warmUpsPicture, WARM_UPS_SPEC, warmUpsToTake, warmUpsWords } from './warm-ups.js';

const HEIGHTS = { spread: 250, curves: 260, warmUps: 250 };
const MOST_NAMED = 6;
/** From so many dots on their column is the longer one. */
const MANY_ROWS = 26;

export class Parts {
  #read = null;
  #left = element('div', 'left');
  #beside = element('div', 'beside');
  #width = 0;
  #dots;
  #spread;
  #power;
  #numbers;
  #curves;
  #units;
  #unitTable;
  #blocks;
  #warmUps;

  constructor(place) {
    const [first, last] = [element('div', 'columns'), element('div', 'columns')];
    this.#dots = this.#figure('units-drawn', 'Every unit', () => unitsToTake(inOrder(this.#c.lots), this.#c.metric, this.#c.unit), () => [{ svg: dotsPicture(this.#c, 760) }]);
    this.#spread = chartFigure('spread', 'How the lots are spread', () => unitsToTake(inOrder(this.#c.lots), this.#c.metric, this.#c.unit), { height: HEIGHTS.spread, ...SPREAD_SPEC }, () => this.#axisWords);
    this.#power = this.#figure('power', 'What could have been seen', () => numbersToTake(this.#c), () => [{ svg: powerPicture(this.#c, 640) ?? emptyPicture() }]);
    this.#numbers = this.#figure('numbers', 'In numbers', () => numbersToTake(this.#c));
    this.#curves = new CurvePanels(() => this.#read);
    this.#units = this.#figure('units', 'Units and screening', () => unitsToTake(inOrder(this.#c.lots), this.#c.metric, this.#c.unit));
    this.#unitTable = new UnitTable(this.#units.body);
    this.#blocks = this.#figure('together', 'Measured together?', () => blocksToTake(this.#c, printed(this.#c.unit)));
    this.#warmUps = chartFigure('warm-ups', 'Warm-up curves', () => warmUpsToTake(this.#read.curves), { height: HEIGHTS.warmUps, ...WARM_UPS_SPEC }, () => 'share of the way to the plateau; minutes since the first sample');
    this.#left.append(this.#dots.node);
    this.#beside.append(this.#spread.figure.node, this.#power.node);
    first.append(this.#left, this.#beside);
    last.append(this.#blocks.node, this.#warmUps.figure.node);
    place.append(first, this.#curves.figure.node, this.#units.node, last);
  }

  #figure(id, words, toTake, pictures) {
    return new Figure(id, words, { table: toTake, pictures });
  }

  get #c() {
    return this.#read.comparison;
  }

  get #axisWords() {
    return `${title(this.#c.metric)}, ${printed(this.#c.unit)}`;
  }

  /** Shows everything of {comparison, curves, constants}. */
  async show(read) {
    this.#read = read;
    const c = read.comparison;
    const file = c.lots.map((lot) => lot.lot).join('-');
    this.#dots.say([dotsWords(c, this.#axisWords)], file);
    this.#numbers.say([], file);
    setParts(this.#numbers.body, [numbersTable(numberRows(c))]);
    const rows = c.lots.reduce((sum, lot) => sum + rowsOf(lot).length, 0);
    const place = rows > MANY_ROWS ? this.#beside : this.#left;
    if (this.#numbers.node.parentNode !== place) place.append(this.#numbers.node);
    this.#power.say(powerWords(c), file);
    this.#units.say(['Those that need a decision first. ', element('b', '', countsOf(c.lots.flatMap((lot) => lot.units))), ' under the limits that hold.'], file);
    const units = inOrder(c.lots);
    this.#unitTable.show(units, c.metric, c.unit, { withLot: c.lots.length > 1 });
    this.#blocks.say([c.lots.length > 1 ? blockWords(c) : 'Where and when its units were measured.'], file);
    setParts(this.#blocks.body, [blockTable(c)]);
    this.#drawn(c);
    const charts = [this.#spread.show(spreadPicture(c), ['Share of a lot’s units at or below each value.'], file), ...this.#course(read, units, file)];
    await Promise.all(charts);
  }

  #course({ curves, constants }, units, file) {
    this.#warmUps.figure.body.hidden = !anyWarmUp(curves);
    const marked = new Set(units.filter((unit) => unit.screening.verdict === 'reject').slice(0, MOST_NAMED).map((unit) => unit.tracker));
    return [
      this.#curves.show(curves, axesOf(partsOf(this.#c.metric).axis), marked, file),
      this.#warmUps.show(warmUpsPicture(curves), [warmUpsWords(curves, constants)], file),
    ];
  }

  /** Draws again what is drawn at the width that it has. */
  fit({ comparison }) {
    if (this.#dots.body.clientWidth !== this.#width) this.#drawn(comparison);
  }

  #drawn(c) {
    this.#width = this.#dots.body.clientWidth;
    const dots = dotsPicture(c, this.#width);
    dots.setAttribute('role', 'group');
    dots.setAttribute('aria-label', `${dotsWords(c, this.#axisWords)} The table below says the same.`);
    this.#dots.body.replaceChildren(dots);
    const power = powerPicture(c, this.#power.body.clientWidth || this.#width);
    power?.setAttribute('role', 'img');
    power?.setAttribute('aria-label', powerWords(c)[0]);
    this.#power.body.replaceChildren(...(power ? [power] : []));
  }
}

function dotsWords(c, axis) {
  const left = c.lots.reduce((sum, lot) => sum + lot.n - rowsOf(lot).length, 0);
  const missing = c.lots.reduce((sum, lot) => sum + lot.units.length - lot.n, 0);
  return `${sentence(axis)}${c.at_c === null ? '' : ` at ${c.at_c} °C`}, with its 95 % interval; line: median of the lot.${left ? ` ${left} near their medians have no row here.` : ''}${missing ? ` Of ${missing} it is not known; the table says why.` : ''}`;
}

function emptyPicture() {
  return dotsPicture({ lots: [] }, 100);
}

/** A figure with one chart. */
function chartFigure(id, name, toTake, spec, axis) {
  const place = element('div', 'panel-chart');
  place.setAttribute('role', 'img');
  let chart;
  const figure = new Figure(id, name, { table: toTake, pictures: () => [{ svg: chart.svg(), words: axis() }] });
  figure.body.append(element('p', 'axis-name'), place);
  return {
    figure,
    async show(picture, words, file) {
      figure.say(words, file);
      figure.body.firstChild.textContent = sentence(axis());
      place.setAttribute('aria-label', `${name}: ${words.join('')} The table below says the same.`);
      chart ??= new Chart(place, spec);
      await chart.show(picture);
    },
  };
}

/** Bias curves: a chart for each axis. */
class CurvePanels {
  #panels = [];
  #axes = '';
  figure;

  constructor(read) {
    this.figure = new Figure('curves', 'Bias curves, one over another', {
      table: () => curvesToTake(read().curves), pictures: () => this.#panels.map(({ axis, chart }) => ({ svg: chart.svg(), words: axisWords(axis) })),
    });
    this.figure.body.classList.add('panels');
  }

  async show(curves, axes, marked, file) {
    this.figure.say([curvesWords(curves), marked.size ? ' Dark and named: to be rejected.' : ''], file);
    this.figure.body.hidden = curves.zero_at_c === null;
    if (curves.zero_at_c === null) return;
    if (axes.join() !== this.#axes) this.#build(axes);
    const span = commonSpan(curves);
    await Promise.all(this.#panels.map(({ axis, chart }) => chart.show(curvesPicture(curves, axis, marked, span))));
  }

  #build(axes) {
    this.#panels.forEach(({ chart }) => chart.close());
    this.figure.body.replaceChildren();
    this.#axes = axes.join();
    this.#panels = axes.map((axis) => {
      const place = element('div', 'panel-chart');
      place.setAttribute('role', 'img');
      place.setAttribute('aria-label', `${axisWords(axis)}; the table below says the same`);
      this.figure.body.append(element('div', 'panel', element('p', 'panel-title', element('b', '', axis), ' bias, °/s, against °C'), place));
      return { axis, chart: new Chart(place, { height: HEIGHTS.curves, ...CURVES_SPEC }) };
    });
  }
}

function axisWords(axis) {
  return `Bias of ${axis}, °/s, against temperature, °C, of every unit`;
}

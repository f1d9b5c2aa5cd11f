// One lane of the story: its name, its chart, and at its end the newest value, or the one under the cursor.
import { Chart } from '../../charts/chart.js';
import { clockLabels } from '../../charts/ticks.js';
import { element, setParts, setText } from '../../js/nodes.js';

const GUTTER_PX = 54;

/** {@code lane} is one of LANES. */
export class Lane {
  #lane;
  #chart;
  #value = element('p', 'lane-value');

  constructor(place, lane, { zoom, cursor }) {
    this.#lane = lane;
    const name = element('p', 'lane-name', element('b', '', lane.name), ' ', element('small', '', lane.unit));
    const drawing = element('div', 'lane-chart');
    drawing.setAttribute('role', 'img');
    drawing.setAttribute('aria-label', `${lane.name}: not drawn yet`);
    place.append(element('div', `lane ${lane.key}`, name, drawing, this.#value));
    this.#chart = new Chart(drawing, {
      height: lane.height,
      x: { time: true, labels: lane.clock ? clockLabels : () => [], size: lane.clock ? 40 : 0 },
      y: { labels: lane.labels ?? ((splits) => splits.map(() => '')), size: GUTTER_PX, space: 16 },
      bottom: lane.clock ? 0 : 8, right: 18, sync: 'story', onZoom: zoom, onCursor: cursor,
    });
    this.drawing = drawing;
  }

  get width() {
    return this.#chart.width - GUTTER_PX;
  }

  /** Draws it over a range of seconds since 1970. */
  show(soak, columns, range) {
    this.tell(soak, columns, null);
    this.drawing.setAttribute('aria-label', `${this.#lane.name}: ${this.#value.textContent}`);
    return this.#chart.show({ x: range, y: this.#lane.range(soak, columns), layers: this.#lane.layers(soak, columns), xs: columns.t });
  }

  /** The value of one row, or the newest where none is given. */
  tell(soak, columns, index) {
    const told = this.#lane.value(soak, columns, index);
    if (Array.isArray(told)) setParts(this.#value, told);
    else setText(this.#value, told ?? '');
  }

  picture() {
    return { svg: this.#chart.svg(), words: [this.#lane.name, this.#lane.unit].filter(Boolean).join(', ') };
  }
}

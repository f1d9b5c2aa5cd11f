// One chart: uPlot keeps scales, axes, cursor and zoom; what is in it is drawn by layers, on the canvas and as SVG alike.
import uPlot from '../lib/uplot/dist/uPlot.esm.js';
import { canvasPen, svgPen } from './pens.js';
import { onRepaint } from './paint.js';
import { scale } from './scale.js';
import { axis } from './ticks.js';

const SVG = 'http://www.w3.org/2000/svg';

/**
 * {@code spec} is {height, x: {size, labels, log, time}, y: {size, labels, log, space}, left, right, bottom, sync, onZoom(from, to), onCursor(index)}.
 * Sizes are px; x in seconds where it is time. A side without labels has neither ticks nor room.
 */
export class Chart {
  #plot;
  #spec;
  #ticks = {};
  #ranges = {};
  #layers = [];
  #drawn = () => {};

  constructor(place, spec) {
    this.#spec = spec;
    // Until there is something to show; a log axis has no zero.
    for (const side of ['x', 'y']) this.#ranges[side] = spec[side].log ? [1, 10] : [0, 1];
    this.#plot = new uPlot(this.#options(Math.max(120, place.clientWidth)), [[1, 2], [null, null]], place);
    new ResizeObserver(() => this.#fit(place)).observe(place);
    onRepaint(() => this.#plot.redraw(false));
  }

  /** Shows layers over a range of x and y; {@code xs} are where the cursor can stand. Resolves when it is drawn. */
  show({ x, y, layers, xs = x }) {
    this.#ranges = { x, y };
    this.#layers = layers;
    return new Promise((resolve) => {
      this.#drawn = resolve;
      this.#plot.setData([xs, xs.map(() => null)], true);
    });
  }

  /** Takes it off the page for good. */
  close() {
    this.#plot.destroy();
  }

  get width() {
    return this.#plot.width;
  }

  get height() {
    return this.#plot.height;
  }

  #options(width) {
    const { height, x, y, sync, left = 8, right = 8, bottom = 0 } = this.#spec;
    const heard = ({ side, ...ticks }) => { this.#ticks[side] = ticks; };
    return {
      width,
      height,
      padding: [8, right, bottom, y.labels ? 0 : left],
      legend: { show: false },
      cursor: this.#cursor(sync),
      select: { show: true, left: 0, top: 0, width: 0, height: 0 },
      scales: {
        x: { time: x.time === true, distr: x.log ? 3 : 1, range: () => this.#ranges.x },
        y: { distr: y.log ? 3 : 1, range: () => this.#ranges.y },
      },
      axes: [
        axis({ side: 'bottom', size: x.labels ? x.size ?? 30 : 0, labels: x.labels ?? (() => []), space: x.space ?? 70, show: Boolean(x.labels), log: x.log }, heard),
        axis({ side: 'left', size: y.labels ? y.size ?? 46 : 0, labels: y.labels ?? (() => []), space: y.space ?? 30, show: Boolean(y.labels), log: y.log }, heard),
      ],
      series: [{}, { paths: () => null, points: { show: false } }],
      hooks: { draw: [(u) => this.#draw(u)], setCursor: [(u) => this.#spec.onCursor?.(u.cursor.idx)], setSelect: [(u) => this.#selected(u)] },
    };
  }

  #cursor(sync) {
    return {
      show: Boolean(this.#spec.onCursor),
      y: false,
      points: { show: false },
      drag: { x: Boolean(this.#spec.onZoom), y: false, setScale: false },
      ...(sync && { sync: { key: sync, setSeries: false } }),
    };
  }

  #selected(u) {
    if (u.select.width < 6) return;
    const from = u.posToVal(u.select.left, 'x');
    const to = u.posToVal(u.select.left + u.select.width, 'x');
    u.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
    this.#spec.onZoom?.(from, to);
  }

  #fit(place) {
    const width = Math.max(120, place.clientWidth);
    if (width !== this.#plot.width) this.#plot.setSize({ width, height: this.#spec.height });
  }

  #draw(u) {
    const ratio = devicePixelRatio || 1;
    u.ctx.save();
    u.ctx.scale(ratio, ratio);
    const frame = this.#frame(ratio);
    const pen = canvasPen(u.ctx);
    pen.within(frame.left, frame.top - 1, frame.right - frame.left, frame.bottom - frame.top + 2, () => this.#layers.forEach((layer) => layer(pen, frame)));
    u.ctx.restore();
    this.#drawn();
  }

  #frame(ratio) {
    const { left, top, width, height } = this.#plot.bbox;
    const frame = { left: left / ratio, top: top / ratio, right: (left + width) / ratio, bottom: (top + height) / ratio };
    frame.x = scale(this.#ranges.x, frame.left, frame.right, this.#spec.x.log);
    frame.y = scale(this.#ranges.y, frame.bottom, frame.top, this.#spec.y.log);
    return frame;
  }

  /** The same picture as an SVG element. */
  svg() {
    const root = document.createElementNS(SVG, 'svg');
    for (const [key, value] of Object.entries({ width: this.width, height: this.height, viewBox: `0 0 ${this.width} ${this.height}` })) root.setAttribute(key, value);
    const pen = svgPen(root);
    const frame = this.#frame(devicePixelRatio || 1);
    this.#sides(pen, frame);
    pen.within(frame.left, frame.top - 1, frame.right - frame.left, frame.bottom - frame.top + 2, () => this.#layers.forEach((layer) => layer(pen, frame)));
    return root;
  }

  #sides(pen, frame) {
    const { bottom, left } = this.#ticks;
    // On a log axis those too close together are null.
    bottom?.splits.forEach((v, i) => {
      if (v === null) return;
      pen.path([[frame.x(v), frame.top, frame.x(v), frame.bottom]], { stroke: '--line' });
      if (this.#spec.x.labels) (bottom.told[i] ?? '').split('\n').forEach((part, k) => pen.text(frame.x(v), frame.bottom + 18 + 15 * k, part, { fill: '--soft', align: 'center' }));
    });
    left?.splits.forEach((v, i) => {
      if (v === null) return;
      pen.path([[frame.left, frame.y(v), frame.right, frame.y(v)]], { stroke: '--line' });
      pen.text(frame.left - 7, frame.y(v) + 4, left.told[i] ?? '', { fill: '--soft', align: 'right' });
    });
  }
}

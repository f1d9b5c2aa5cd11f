// Its soaks, small and beside each other: temperature on one scale, below it the steepest coefficient.
import { Figure } from '../../charts/figure.js';
import { svgPen } from '../../charts/pens.js';
import { box, line } from '../../charts/layers.js';
import { AXES } from '../../charts/paint.js';
import { drawn, element, setParts } from '../../js/nodes.js';
import { age, day, number, pretty } from '../../js/words.js';
import { bare, known, told } from './estimate.js';
import { trackerPage } from './service.js';

const WIDTH = 204;
const HEIGHT = 92;
const ROOM = 0.05;

export class Soaks {
  #figure = new Figure('soaks', 'Its soaks', { table: () => table(this.#soaks), pictures: () => [...this.#list.children].flatMap(pictures) });
  #list = element('ul', 'soaks');
  #soaks = [];

  constructor(place) {
    this.#list.setAttribute('role', 'list');
    this.#figure.body.append(this.#list);
    place.append(this.#figure.node);
  }

  /** Soaks, the oldest first: [{soak, start, end, ended, figures, course: {t, c}, readyS}], and which of them is looked at. */
  show(tracker, soaks, current, limits, together) {
    this.#soaks = soaks;
    this.#figure.node.hidden = soaks.length < 2;
    if (this.#figure.node.hidden) return;
    const axis = steepest(soaks);
    const scale = scales(soaks, limits, axis);
    setParts(this.#list, soaks.map((one) => item(tracker, one, one.soak === current, scale)));
    this.#figure.say(words(soaks, scale, together), tracker);
  }
}

/** Index of the axis whose coefficient is greatest in most soaks. */
function steepest(soaks) {
  const sums = [0, 1, 2].map((i) => soaks.reduce((sum, { figures }) => sum + Math.abs(figures?.axes[i].tempco_dps_per_c.value ?? 0), 0));
  return sums.indexOf(Math.max(...sums));
}

function scales(soaks, limits, axis) {
  const celsius = soaks.flatMap((s) => s.course?.c ?? []).filter((v) => v !== null);
  const low = Math.floor(Math.min(...celsius, limits?.band_low_c ?? Infinity));
  const high = Math.ceil(Math.max(...celsius, limits?.band_high_c ?? -Infinity));
  const lengths = soaks.map((s) => (s.course?.t.at(-1) ?? 0) - Date.parse(s.start) / 1000);
  const tempcos = soaks.map((s) => s.figures?.axes[axis].tempco_dps_per_c).filter(known).flatMap((e) => [e.low, e.high]);
  const most = Math.max(0.005, ...tempcos.map(Math.abs)) * (1 + ROOM);
  const signs = [tempcos.some((v) => v < 0), tempcos.some((v) => v > 0)];
  return { limits, axis, c: [low, high], longestS: Math.max(60, ...lengths), tempco: [signs[0] ? -most : 0, signs[1] ? most : 0] };
}

function item(tracker, one, current, scale) {
  const at = Date.parse(one.start);
  const link = element('a', '', element('b', '', day(at)));
  link.href = trackerPage(tracker, one.soak);
  const tempco = one.figures?.axes[scale.axis].tempco_dps_per_c;
  const node = element('li', [current && 'current', one.left_out && 'left-out'].filter(Boolean).join(' '), element('p', '', link, current ? ' here' : ''), curve(one, scale, day(at)),
    ...(known(tempco) ? [coefficient(tempco, scale)] : []), element('p', 'num', known(tempco) ? bare(tempco, 4) : 'no coefficient'), element('p', 'why', outcome(one)),
    ...(one.left_out ? [element('p', 'why', element('b', '', 'left out'), `: ${one.left_out}`)] : []));
  if (!known(tempco)) node.querySelector('.num').title = pretty(tempco?.reason ?? '');
  return node;
}

/** Those of one soak: its course below its day, its coefficient below the figure. */
function pictures(node) {
  const words = [node.querySelector('b').textContent, node.querySelector('.num').textContent];
  return [...node.querySelectorAll('svg.small')].map((svg, i) => ({ svg: svg.cloneNode(true), words: words[i] }));
}

function frameOf(scale, startS) {
  return {
    left: 0, right: WIDTH, top: 2, bottom: HEIGHT - 2,
    x: (s) => (s - startS) / scale.longestS * WIDTH,
    y: (c) => HEIGHT - 2 - (c - scale.c[0]) / (scale.c[1] - scale.c[0]) * (HEIGHT - 4),
  };
}

function curve(one, scale, date) {
  const svg = drawn('svg', { class: 'small', viewBox: `0 0 ${WIDTH} ${HEIGHT}`, width: WIDTH, height: HEIGHT, role: 'img', 'aria-label': `Temperature of the soak of ${date}` });
  const pen = svgPen(svg);
  const frame = frameOf(scale, Date.parse(one.start) / 1000);
  const { limits } = scale;
  if (limits) box(null, null, limits.band_low_c, limits.band_high_c, { stroke: '--rule' })(pen, frame);
  if (one.course) line(one.course.t, one.course.c, { stroke: '--ink', width: 1.5 })(pen, frame);
  return svg;
}

function coefficient(tempco, { axis, tempco: [low, high] }) {
  const svg = drawn('svg', { class: 'small', viewBox: `0 0 ${WIDTH} 18`, width: WIDTH, height: 18, 'aria-hidden': 'true' });
  const pen = svgPen(svg);
  const x = (v) => (v - low) / (high - low) * (WIDTH - 12) + 6;
  const { colour } = AXES[axis];
  pen.path([[0, 9, WIDTH, 9]], { stroke: '--line' });
  pen.path([[x(0), 3, x(0), 15]], { stroke: '--rule' });
  pen.rect(x(tempco.low), 6, Math.max(2, x(tempco.high) - x(tempco.low)), 6, { fill: colour, alpha: 0.4 });
  pen.disc(x(tempco.value), 9, 4.5, { fill: colour });
  return svg;
}

function outcome({ readyS, start, ended }) {
  if (readyS) return `ready in ${age(readyS - Date.parse(start) / 1000)}`;
  return ended ? 'never ready' : 'not ready yet';
}

function words(soaks, { axis, c, longestS, tempco }, together) {
  const { name } = AXES[axis];
  const all = together?.axes[axis]?.tempco_dps_per_c;
  const said = [`Temperature over ${age(longestS)}, ${number(c[0], 0)} to ${number(c[1], 0)} °C, the band outlined; below it the coefficient of ${name}, `,
    `${number(tempco[0], 3)} to ${number(tempco[1], 3)} °/s per °C, with its 95 % interval.`];
  return known(all) ? [...said, soaks.some((s) => s.left_out) ? ' All that count together: ' : ' All soaks together: ', element('b', '', told(all, '°/s per °C', 4)), '.'] : said;
}

function table(soaks) {
  const tempcos = ['x', 'y', 'z'].flatMap((a) => [{ name: `coefficient ${a}`, unit: '°/s per °C' }, { name: `${a} low, 95 %` }, { name: `${a} high, 95 %` }]);
  const columns = [{ name: 'soak' }, { name: 'start' }, { name: 'end' }, { name: 'minutes to ready', unit: 'min' }, { name: 'level', unit: '°C' }, ...tempcos];
  const rows = soaks.map((s) => [s.soak, s.start, s.end, s.readyS ? Math.round((s.readyS - Date.parse(s.start) / 1000) / 6) / 10 : null, s.figures?.plateau_c.value ?? null,
    ...[0, 1, 2].flatMap((i) => {
      const e = s.figures?.axes[i].tempco_dps_per_c;
      return [e?.value ?? null, e?.low ?? null, e?.high ?? null];
    })]);
  return { columns, rows };
}

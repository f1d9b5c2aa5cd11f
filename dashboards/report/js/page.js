// Puts the report of one soak together: a page to print.
import { AXES } from '../../charts/paint.js';
import { clockLabels, logLabels, numberLabels } from '../../charts/ticks.js';
import { element, setText } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { age, clock, day, pretty, sentence } from '../../js/words.js';
import { coefficient, commonSpan, picture as biasPicture } from '../../tracker/js/bias.js';
import { LANES } from '../../tracker/js/lanes.js';
import { picture as noisePicture } from '../../tracker/js/noise.js';
import { named, trackerPage } from '../../tracker/js/service.js';
import { limitRows } from '../../tracker/js/terms.js';
import { drawing } from './drawings.js';
import { load } from './load.js';
import { axisRows, check, soakRows, table, verdict } from './words.js';

const byId = (name) => document.getElementById(name);
const id = named('soak/', '/report');
const HEIGHTS = { states: 34, temperature: 86, 'bias bias-x': 36, 'bias bias-y': 36, 'bias bias-z': 36, marks: 54 };
const AGAIN_MS = 5_000;

byId('print').addEventListener('click', () => print());

async function show() {
  let report;
  try {
    report = await load(id);
  } catch (e) {
    byId('notices').replaceChildren(element('p', 'notice', `Not read: ${e.message}. Trying again by itself.`));
    setTimeout(show, AGAIN_MS);
    return;
  }
  byId('notices').replaceChildren();
  if (!report) return missing();
  const { tracker, start } = report.soak;
  document.title = `${tracker} ${start.slice(0, 10)} soak report`;
  byId('back').href = trackerPage(tracker, id);
  setText(byId('back'), report.roster?.name || tracker);
  byId('sheet').replaceChildren(...head(report), ...await course(report), ...await curves(report), ...below(report), versions(report.health));
  document.documentElement.dataset.whole = '';
}

function missing() {
  byId('sheet').replaceChildren(element('h1', '', 'No such soak'),
    element('p', '', `No soak “${id}” is stored. Its tracker’s page lists the soaks that are; a link to a report stands there under “Notes and terms”.`));
}

function head({ soak, roster, ...rest }) {
  const { state, words } = verdict({ soak, ...rest });
  const [from, to] = [soak.start, soak.end].map(Date.parse);
  const who = [soak.tracker, roster?.lot && `lot ${roster.lot}`, roster?.imu && `IMU ${roster.imu}`, roster?.board && `board ${roster.board}`,
    roster?.rack, roster?.slot && `slot ${roster.slot}`, roster?.rates && `rates ${roster.rates}`].filter(Boolean).join(', ');
  return [
    element('div', 'title-line', element('h1', '', `Soak of ${roster?.name || soak.tracker}`), element('p', 'soft', 'Soakbench report')),
    element('p', 'soft', `${who}. ${day(from)} ${new Date(from).getFullYear()}, ${clock(from)} to ${clock(to)} ${zone(from)}, ${age((to - from) / 1000)}, ${soak.samples.toLocaleString('en')} samples. Soak ${soak.soak}.`),
    element('p', 'verdict', shape(state), element('b', '', state), element('span', '', words)),
    ...(soak.left_out ? [element('p', 'left-out', `Left out of the tracker’s figures: ${soak.left_out}`)] : []),
  ];
}

function zone(ms) {
  return Intl.DateTimeFormat('en-GB', { timeZoneName: 'short' }).formatToParts(ms).find((p) => p.type === 'timeZoneName').value;
}

async function course(report) {
  const nodes = [];
  for (const lane of LANES.filter((l) => HEIGHTS[l.key])) {
    const spec = { height: HEIGHTS[lane.key], x: { time: true, labels: lane.clock ? clockLabels : () => [], size: lane.clock ? 24 : 0 },
      y: { labels: lane.labels ?? ((s) => s.map(() => '')), size: 52, space: 14 }, bottom: lane.clock ? 0 : 4, right: 14 };
    const shown = { x: report.range, y: lane.range(report, report.columns), layers: lane.layers(report, report.columns), xs: report.columns.t };
    const node = await drawing(byId('stage'), spec, shown, `${lane.name} over time`);
    if (lane.unit && !lane.clock) node.append(element('span', 'lane-words', `${lane.name}, ${lane.unit}`));
    nodes.push(node);
  }
  return [element('section', 'figure-part', element('h2', '', 'Course'), ...nodes)];
}

async function curves({ curve, limits, noise }) {
  const parts = [];
  if (curve?.reason) parts.push(element('p', '', `${sentence(pretty(curve.reason))}.`));
  else if (curve) {
    const drawn = [];
    for (const [i, axis] of curve.axes.entries()) {
      const spec = { height: 114, x: { labels: numberLabels, size: 24, space: 40 }, y: { labels: numberLabels, size: 44, space: 30 }, right: 4 };
      const node = await drawing(byId('stage'), spec, biasPicture(axis, AXES[i], limits, commonSpan(curve)), `Bias of ${axis.axis}`, 0.323);
      drawn.push(element('div', '', element('p', '', element('b', '', axis.axis), ` ${coefficient(axis)}`), node));
    }
    parts.push(element('div', 'report-three', ...drawn));
  }
  const bias = element('section', 'figure-part', element('h2', '', 'Bias, °/s, against temperature, °C'), ...parts);
  return [bias, element('div', 'columns', await noisePart(noise), limitsPart(limits))];
}

async function noisePart(noise) {
  const heading = element('h2', '', 'Allan deviation, °/s; averaging time, s');
  if (!noise || noise.reason) return element('section', 'figure-part', heading, element('p', '', `${sentence(pretty(noise?.reason ?? 'not known'))}.`));
  const spec = { height: 122, x: { log: true, labels: logLabels, size: 24 }, y: { log: true, labels: logLabels, size: 46 }, right: 4 };
  return element('section', 'figure-part', heading, await drawing(byId('stage'), spec, noisePicture(noise), 'Allan deviation', 0.48));
}

function limitsPart(limits) {
  return element('section', 'figure-part', element('h2', '', 'Limits of this soak'), limits ? table(null, limitRows(limits), 'Limits') : element('p', '', 'Not kept.'));
}

function below(report) {
  const axes = axisRows(report.curve?.reason ? null : report.curve, report.noise?.reason ? null : report.noise);
  return [
    element('section', 'figure-part', element('h2', '', 'Figures with 95 % intervals'),
      element('div', axes.length ? 'columns wide-left' : '', ...(axes.length ? [table(['', 'x', 'y', 'z'], axes, 'Figures of each axis')] : []), table(null, soakRows(report), 'Figures of the soak'))),
    element('section', 'figure-part', element('h2', '', 'Calibration and check'), element('p', '', ...check(report.marks))),
  ];
}

function versions(health) {
  const now = Date.now();
  const service = `Soakbench ${health?.version ?? '(not from a jar)'}`;
  const database = health?.database?.version ? `, PostgreSQL ${health.database.version}` : '';
  return element('p', 'versions', `${service}${database}. Made ${day(now)} ${new Date(now).getFullYear()} ${clock(now)} ${zone(now)} from the stored samples. N: white noise, B: floor, K: slow walk. Not a safety device: makers’ instructions and qualified people decide about heat and cells.`);
}

show();

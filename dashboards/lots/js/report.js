// The comparison of lots on two sheets of paper: what was found, what to do, every unit, the curves, the numbers.
import { element } from '../../js/nodes.js';
import { clock, day, list, number, pretty, sentence } from '../../js/words.js';
import { call } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { zone } from '../../shared/times.js';
import { drawing } from '../../report/js/drawings.js';
import { table } from '../../report/js/words.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { blockTable, blockWords } from './blocks.js';
import { axesOf, commonSpan, curvesPicture, CURVES_SPEC, curvesWords } from './curves.js';
import { dotsPicture } from './dots.js';
import { greyWords, headline, isConfounded } from './finding.js';
import { decimalsFor, partsOf, printed, title } from './metrics.js';
import { numberRows, numbersTable } from './numbers.js';
import { powerWords } from './power.js';
import { readComparison } from './read.js';
import { askedOf, comparePage } from './service.js';
import { spreadPicture, SPREAD_SPEC } from './spread.js';
import { inOrder } from './units.js';
import { countsOf, isOpen, verdictReason, verdictWord } from './verdict.js';
import { anyWarmUp, warmUpsPicture, WARM_UPS_SPEC, warmUpsWords } from './warm-ups.js';

const SHEET_PX = 690;
const ROW_PX = 13;
/** Rows of dots, of all lots together: more do not go on the first page. */
const MOST_ROWS = 44;
const MOST_OPEN = 30;
const MOST_NAMED = 6;
const DAY_MS = 86_400_000;
const byId = (name) => document.getElementById(name);

byId('print').addEventListener('click', () => print());

/** A report is of one moment. */
const fresh = new Fresh(async (isNewest) => {
  const asked = askedOf(new URLSearchParams(location.search));
  byId('back').href = comparePage(asked.lots, { metric: asked.metric, at_c: asked.at_c, ratio: asked.ratio });
  const [read, health] = await Promise.all([readComparison(asked), call('GET', '/health')]);
  if (!isNewest()) return;
  const names = read.comparison.lots.map((lot) => lot.lot);
  document.title = `${names.join(', ')} lots report`;
  byId('sheet').replaceChildren(...head(read.comparison, names), dots(read.comparison), ...await curves(read), ...await below(read), versions(health.body));
  document.documentElement.dataset.whole = '';
}, () => DAY_MS);

function head(c, names) {
  const at = c.at_c === null ? '' : ` at ${number(c.at_c, 1)} °C`;
  const advice = c.advice.map((words) => `${sentence(pretty(words))}.`).join(' ');
  return [
    element('div', 'title-line', element('h1', '', `${names.length > 1 ? 'Lots' : 'Lot'} ${list(names, 8)}`), element('p', 'soft', 'Soakbench report')),
    element('p', 'soft', `By ${title(c.metric)}${at}; ${printed(c.unit)}. In brackets and after ±: 95 % intervals.`),
    element('p', `verdict finding${isConfounded(c) ? ' open' : ''}`, element('b', '', ...headline(c))),
    ...(isConfounded(c) ? [element('p', 'soft', greyWords(c))] : []),
    element('p', 'advice', advice),
    ...c.warnings.map((words) => element('p', 'left-out', `${sentence(pretty(words))}.`)),
  ];
}

function part(name, words, ...nodes) {
  return element('section', 'figure-part', element('h2', '', name), ...(words ? [element('p', 'soft', words)] : []), ...nodes);
}

function dots(c) {
  const most = Math.max(4, Math.floor(MOST_ROWS / c.lots.length));
  const [wide, narrow] = [SHEET_PX, Math.min(SHEET_PX, document.documentElement.clientWidth - 24)].map((width) => dotsPicture(c, width, { row: ROW_PX, most }));
  wide.classList.add('wide');
  narrow.classList.add('narrow');
  const node = element('div', 'picture', wide, narrow);
  node.setAttribute('role', 'group');
  node.setAttribute('aria-label', 'Every unit with its interval; the table of those that need a decision is below');
  const left = c.lots.some((lot) => lot.n > most) ? ' Of greater lots those that need a decision and the farthest from the median.' : '';
  return part('Every unit', `With its 95 % interval; upright lines: median of the lot, limit.${left}`, node);
}

async function curves({ comparison, curves: answer }) {
  if (answer.zero_at_c === null) return [part('Bias curves', curvesWords(answer))];
  const axes = axesOf(partsOf(comparison.metric).axis);
  const marked = new Set(inOrder(comparison.lots).filter((u) => u.screening.verdict === 'reject').slice(0, MOST_NAMED).map((u) => u.tracker));
  const span = commonSpan(answer);
  const drawn = [];
  for (const axis of axes) {
    const node = await drawing(byId('stage'), { ...CURVES_SPEC, height: 150, y: { ...CURVES_SPEC.y, size: 44 } }, curvesPicture(answer, axis, marked, span), `Bias curves of ${axis}`, axes.length > 1 ? 0.323 : 1);
    drawn.push(element('div', '', element('p', '', element('b', '', axis), ' °/s, against °C'), node));
  }
  return [part('Bias curves, one over another', curvesWords(answer), element('div', axes.length > 1 ? 'report-three' : '', ...drawn))];
}

async function below({ comparison: c, curves: answer, constants }) {
  const spread = await drawing(byId('stage'), { ...SPREAD_SPEC, height: 170 }, spreadPicture(c), 'How the lots are spread', 0.48);
  const warm = anyWarmUp(answer) ? [await drawing(byId('stage'), { ...WARM_UPS_SPEC, height: 170 }, warmUpsPicture(answer), 'Warm-up curves', 0.48)] : [];
  return [
    element('div', 'columns', part('How the lots are spread', `Share of a lot’s units at or below each value, ${printed(c.unit)}.`, spread),
      part('Warm-up curves', warmUpsWords(answer, constants), ...warm)),
    units(c),
    part('In numbers', powerWords(c)[0], numbersTable(numberRows(c))),
    part('Measured together?', c.lots.length > 1 ? blockWords(c) : '', blockTable(c)),
  ];
}

function units(c) {
  const all = inOrder(c.lots);
  const open = all.filter((unit) => isOpen(unit.screening));
  const decimals = decimalsFor(all.map((unit) => unit.value));
  const rows = open.slice(0, MOST_OPEN).map((u) => [u.name, u.lot, known(u.value) ? bare(u.value, decimals) : 'not known', verdictWord(u.screening), verdictReason(u.screening)]);
  const rest = open.length > rows.length ? ` The first ${rows.length} of ${open.length}.` : '';
  const shown = rows.length ? [table(['unit', 'lot', title(c.metric), 'screening', 'why'], rows, 'Units that need a decision')] : [];
  return part('Units that need a decision', `${countsOf(all)}.${rest}`, ...shown);
}

function versions(health) {
  const now = Date.now();
  return element('p', 'versions', `Soakbench ${health?.version ?? '(not from a jar)'}. Made ${day(now)} ${new Date(now).getFullYear()} ${clock(now)} ${zone(now)} from the stored soaks. Not a safety device: makers’ instructions and qualified people decide about heat and cells.`);
}

fresh.now();

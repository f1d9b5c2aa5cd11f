// What the comparison came to, in numbers: each figure a sentence with its interval and how it was found.
import { element } from '../../js/nodes.js';
import { number, pretty, sentence, signed } from '../../js/words.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { decimalsFor, places, printed, title } from './metrics.js';

/** Rows [name, words] of a comparison. */
export function numberRows(c) {
  const decimals = decimalsFor(c.lots.flatMap((lot) => lot.units.map((unit) => unit.value)));
  const unit = printed(c.unit);
  const tested = c.family.filter((one) => one.adjusted_p !== null);
  return [
    ...tests(c, decimals, unit),
    ...(c.pairs.length > 1 ? c.pairs.map((pair) => [`${pair.b} and ${pair.a}`, pairWords(pair, decimals, unit)]) : []),
    ...c.lots.map((lot) => [lot.lot, lotWords(lot, decimals, unit)]),
    ...(tested.length > 1 ? [['Figures alike', tested.map((one) => `${title(one.metric)} ${p(one.adjusted_p)}`).join('; ').concat('; corrected for there being several')]] : []),
  ];
}

function tests(c, decimals, unit) {
  const [a, b] = c.differ_most.length ? c.differ_most : c.lots.map((lot) => lot.lot);
  const level = c.level.reason ? pretty(c.level.reason)
    : [known(c.level.difference) ? `${b} less ${a}: ${bare(c.level.difference, decimals, signed)} ${unit}` : '', `${c.level.test}, ${p(c.level.p)}`].filter(Boolean).join('; ');
  // The ratio is one of sizes, which the test of the spread about the median says nothing of.
  const size = known(c.spread.ratio) ? [['Size', `${b} over ${a}: ${bare(c.spread.ratio, 2)} times as large`]] : [];
  return [['Level', level], ...size, ['Spread', c.spread.reason ? pretty(c.spread.reason) : `${c.spread.test}, ${p(c.spread.p)}`]];
}

function pairWords(pair, decimals, unit) {
  const parts = [known(pair.difference) && `${bare(pair.difference, decimals, signed)} ${unit}`, known(pair.ratio) && `${bare(pair.ratio, 2)} times as large`, p(pair.p)];
  const told = parts.filter(Boolean);
  return told.length ? told.join('; ') : `not compared: ${pretty(pair.difference.reason ?? 'too few units')}`;
}

function lotWords(lot, decimals, unit) {
  const tell = (v) => number(v, Math.max(decimals, v ? places(v, 1) : 0));
  const parts = [`${lot.n} of ${lot.units.length} units`];
  if (lot.outside) parts.push(`${lot.outside.count} outside the limit (${percent(lot.outside.share.low)} to ${percent(lot.outside.share.high)} of all)`);
  if (known(lot.sd)) parts.push(`its units’ spread ${bare(lot.sd, decimals)} ${unit}`);
  if (lot.error_sd !== null && lot.observed_sd !== null) parts.push(`of the ${tell(lot.observed_sd)} seen, measuring made ${tell(lot.error_sd)}, taken out`);
  const { tolerance } = lot;
  parts.push(tolerance.reason ? `no tolerance limits: ${pretty(tolerance.reason)}`
    : `${percent(tolerance.share)} of its units within ${tell(tolerance.low)} to ${tell(tolerance.high)} ${unit} (${percent(tolerance.confidence)} confidence)`);
  if (known(lot.cpk)) parts.push(`Cpk ${bare(lot.cpk, 2)}`);
  return `${parts.join('; ')}.`;
}

function percent(share) {
  return `${Math.round(100 * share)} %`;
}

/** "p = 0.02", never 0. */
export function p(value) {
  if (typeof value !== 'number') return '';
  return value < 0.0001 ? 'p under 0.0001' : `p = ${value.toFixed(value < 0.01 ? 4 : 2)}`;
}

/** The rows as a table on the page. */
export function numbersTable(rows) {
  const body = rows.map(([name, words]) => {
    const head = element('th', '', name);
    head.scope = 'row';
    return element('tr', '', head, element('td', '', sentence(words)));
  });
  return element('table', 'in-numbers', element('caption', 'unseen', 'The comparison in numbers'), element('tbody', '', ...body));
}

/** The same and the pairs' numbers, to be taken away. */
export function numbersToTake(c) {
  const columns = [{ name: 'what' }, { name: 'a' }, { name: 'b' }, { name: 'difference, b less a', unit: printed(c.unit) }, { name: 'low, 95 %' }, { name: 'high, 95 %' },
    { name: 'ratio, b over a' }, { name: 'low, 95 %' }, { name: 'high, 95 %' }, { name: 'p' }, { name: 'words' }];
  const ends = (e) => [e?.value ?? null, e?.low ?? null, e?.high ?? null];
  const pairs = c.pairs.map((pair) => ['pair', pair.a, pair.b, ...ends(pair.difference), ...ends(pair.ratio), pair.p, '']);
  return { columns, rows: [...pairs, ...numberRows(c).map(([name, words]) => [name, ...Array(9).fill(null), words])] };
}

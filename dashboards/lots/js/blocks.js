// Whether lots were measured together: how many units of each lot there were on each day, rack, supply and board.
import { element } from '../../js/nodes.js';
import { list, sentence, signed } from '../../js/words.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { decimalsFor, printed } from './metrics.js';

/** "Compared within the days and racks …", or which they don't share. */
export function blockWords({ blocks, confounded }) {
  const shared = blocks.filter((block) => block.shared === true).map((block) => block.by);
  const unknown = blocks.filter((block) => block.shared === null);
  const parts = [
    confounded.length ? `They share no ${list(confounded, 4)}: what differs between those may make the whole difference.` : '',
    shared.length ? `They share ${list(shared, 4)}.` : '',
    unknown.length ? `${sentence(list(unknown.map((block) => block.by), 4))} not compared: ${unknown[0].table.length ? 'it is not recorded' : 'the figure is known of no unit'}.` : '',
  ];
  return parts.filter(Boolean).join(' ');
}

/** The table of counts, the blocks that aren't shared first. */
export function blockTable({ blocks, lots, unit }) {
  const names = lots.map((lot) => lot.lot);
  const head = element('tr', '', cell('th', 'units by'), ...names.map((name) => cell('th', name)));
  const body = ordered(blocks).flatMap((block) => [groupRow(block, names.length, printed(unit)), ...block.table.map((row) => blockRow(row, names))]);
  return element('table', 'blocks', element('caption', 'unseen', 'Units of each lot on each day, rack, supply and board'), element('thead', '', head), element('tbody', '', ...body));
}

function ordered(blocks) {
  const rank = (block) => (block.shared === false ? 0 : block.shared === true ? 1 : 2);
  return blocks.toSorted((a, b) => rank(a) - rank(b));
}

function groupRow(block, count, unit) {
  const head = element('th', 'by', block.by, ...sharing(block, count, unit));
  head.colSpan = count + 1;
  head.scope = 'rowgroup';
  return element('tr', '', head);
}

/** One lot alone shares with nobody, whatever was recorded. */
function sharing(block, lots, unit) {
  if (block.shared === null) return lots > 1 ? [block.table.length ? ': not recorded' : ': the figure is known of no unit'] : [];
  return [': ', block.shared ? `shared${within(block, unit)}` : element('b', '', 'shared by none')];
}

/** What the difference is where only units of the same block are compared. */
function within({ difference }, unit) {
  return known(difference) ? `; difference within ${bare(difference, decimalsFor([difference]), signed)} ${unit}` : '';
}

function blockRow({ block, counts }, names) {
  const head = element('th', '', block ?? 'not known');
  head.scope = 'row';
  return element('tr', '', head, ...names.map((name) => {
    const td = element('td', '', counts[name] ? String(counts[name]) : '–');
    td.dataset.number = '';
    return td;
  }));
}

function cell(kind, words) {
  const node = element(kind, '', words);
  node.scope = 'col';
  return node;
}

/** The counts with the differences within blocks, to be taken away. */
export function blocksToTake({ blocks, lots }, unit) {
  const names = lots.map((lot) => lot.lot);
  const columns = [{ name: 'by' }, { name: 'block' }, ...names.map((name) => ({ name })), { name: 'difference within', unit }, { name: 'low, 95 %' }, { name: 'high, 95 %' }, { name: 'note' }];
  const rows = blocks.flatMap(({ by, table, difference, reason }) => table.map(({ block, counts }) => [
    by, block ?? 'not known', ...names.map((name) => counts[name] ?? 0), difference.value, difference.low ?? null, difference.high ?? null, reason ?? difference.reason ?? '']));
  return { columns, rows };
}

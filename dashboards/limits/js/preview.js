// What the proposed limits would have said of past soaks: a sentence, and a line a soak.
import { drawn, element } from '../../js/nodes.js';
import { age, list } from '../../js/words.js';
import { count, link, show, table, trackerLink } from '../../shared/parts.js';
import { reportOf } from '../../shared/soak.js';
import { moment } from '../../shared/times.js';

const LINE = { width: 240, height: 18 };

/** "Of 20 soaks 3 would have been ready earlier …". */
export function summary({ judged, ready_earlier: earlier, ready_later: later, ready_gained: gained, ready_lost: lost, own, proposed }) {
  if (!judged) return 'No soak is stored that could be judged again.';
  const parts = [
    [earlier, 'earlier'], [later, 'later'], [gained, 'that never was'], [lost, 'never'],
  ].filter(([n]) => n).map(([n, how]) => (how === 'never' ? `${n} would never have been ready` : `${n} would have been ready ${how}`));
  const same = parts.length ? `${list(parts, 4)}.` : 'none would have been ready at another time.';
  return `Of ${count(judged, 'soak')} ${same} Ready in all: ${age(proposed.ready_s)} instead of ${age(own.ready_s)}.`;
}

/** Shows rows of soaks; {@code more} is {words, act} where there are others to be judged. */
export function showPreview(place, rows, more) {
  const longest = Math.max(60, ...rows.flatMap((row) => [row.own, row.proposed].map((o) => after(row, o) ?? 0)));
  const body = table('Past soaks, by their own limits and by the proposed ones', columns(longest), rows);
  show(place, body, ...(more ? [element('p', 'acts', more)] : []));
}

function columns(longest) {
  return [
    { head: 'tracker', cell: (row) => trackerLink(row.tracker, row.name) },
    { head: 'soak', cell: (row) => link(reportOf(row.soak), moment(row.start)) },
    { head: 'first ready', number: true, cell: (row) => ready(row, row.own) },
    { head: 'by the proposed', number: true, cell: (row) => (row.proposed ? element('b', '', ready(row, row.proposed)) : `not judged: ${row.reason}`) },
    { head: `within ${age(longest)}`, wide: true, cell: (row) => line(row, longest) },
    { head: 'ready for', number: true, cell: (row) => age(row.own.ready_s) },
    { head: 'by the proposed', number: true, cell: (row) => (row.proposed ? age(row.proposed.ready_s) : '') },
  ];
}

function after(row, outcome) {
  return outcome?.first_ready ? (Date.parse(outcome.first_ready) - Date.parse(row.start)) / 1000 : null;
}

function ready(row, outcome) {
  const seconds = after(row, outcome);
  return seconds === null ? 'never' : `after ${age(seconds)}`;
}

/** A ring where it was first ready, a disc where it would have been; the numbers beside it say the same. */
function line(row, longest) {
  const svg = drawn('svg', { viewBox: `0 0 ${LINE.width} ${LINE.height}`, class: 'shift', 'aria-hidden': 'true' });
  const x = (s) => 8 + s / longest * (LINE.width - 16);
  const [own, proposed] = [after(row, row.own), after(row, row.proposed)];
  svg.append(drawn('path', { d: `M8 9H${LINE.width - 8}`, class: 'axis' }));
  if (own !== null && proposed !== null) svg.append(drawn('path', { d: `M${x(own)} 9H${x(proposed)}`, class: 'from-to' }));
  if (own !== null) svg.append(drawn('circle', { cx: x(own), cy: 9, r: 5, class: 'own' }));
  if (proposed !== null) svg.append(drawn('circle', { cx: x(proposed), cy: 9, r: 4, class: 'proposed' }));
  return svg;
}

// Alarms in words: those that hold with what answers them, those that ended in a table.
import { isHeat, picture, title, told } from '../../js/alarm-row.js';
import { element, flag } from '../../js/nodes.js';
import { pretty } from '../../js/words.js';
import { button, link, show, table } from '../../shared/parts.js';
import { length, moment, until } from '../../shared/times.js';

/** Heat first, then what is severe, then what nobody has seen, then the newest. */
export function sorted(alarms) {
  const rank = (a) => [isHeat(a) ? 0 : 1, a.severity === 'severe' ? 0 : 1, a.acknowledged ? 1 : 0, -Date.parse(a.since)];
  return [...alarms].sort((a, b) => {
    const [x, y] = [rank(a), rank(b)];
    const first = x.findIndex((value, i) => value !== y[i]);
    return first < 0 ? 0 : x[first] - y[first];
  });
}

/** Shows those that hold. {@code answer} is {seen(alarm), takenOff(alarm), soaks: map from tracker to its open soak}. */
export function showOpen(place, alarms, answer) {
  show(place, ...sorted(alarms).map((alarm) => row(alarm, answer)));
}

function row(alarm, answer) {
  const calls = isHeat(alarm) && !alarm.acknowledged;
  const acts = element('p', 'alarm-acts');
  if (alarm.kind === 'silent' && answer.soaks.has(alarm.tracker)) acts.append(button('Taken off', () => answer.takenOff(alarm), { label: `Taken off: ${alarm.name}`, key: `off ${alarm.id}` }));
  if (!alarm.acknowledged) acts.append(button('Seen', () => answer.seen(alarm), { label: `Seen: ${title(alarm)}`, key: `seen ${alarm.id}` }));
  const node = element('li', 'alarm', element('h2', '', picture(alarm), title(alarm)), why(alarm), acts);
  flag(node, 'data-calls', calls);
  flag(node, 'data-severe', alarm.severity === 'severe' && !alarm.acknowledged);
  return node;
}

function why(alarm) {
  const node = element('p', 'alarm-why', `${told(alarm)} ${pretty(alarm.advice)} Since `, moment(alarm.since), ...seen(alarm, ', seen '), '.');
  if (alarm.tracker) node.append(' ', link(`/tracker/${encodeURIComponent(alarm.tracker)}`, `Look at ${alarm.name}`), '.');
  return node;
}

function seen({ acknowledged, acknowledged_by: by }, lead) {
  return acknowledged ? [lead, moment(acknowledged), by ? ` by ${by}` : ''] : [];
}

/** Shows those that ended, newest first. */
export function showEnded(place, alarms) {
  const newest = [...alarms].sort((a, b) => Date.parse(b.until) - Date.parse(a.until));
  show(place, table('Alarms that ended', [
    { head: 'what', cell: (a) => element('span', 'unit', picture(a), title(a)) },
    { head: 'from', cell: (a) => moment(a.since) },
    { head: 'to', cell: (a) => until(a.until, a.since) },
    { head: 'held', number: true, cell: (a) => length(a.since, a.until) },
    { head: 'why', wide: true, cell: (a) => told(a) },
    { head: 'seen', cell: (a) => (a.acknowledged ? seen(a, '') : 'not seen') },
  ], newest));
}

// Racks as they stand: rows and slots, who lies there, and in what state.
import { element } from '../../js/nodes.js';
import { list } from '../../js/words.js';
import { show, trackerLink } from '../../shared/parts.js';
import { stateWord } from '../../shared/state.js';

const ORDER = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** Shows a drawing for each rack; {@code states} is a map from tracker to its state. */
export function showRacks(place, entries, states) {
  const racks = grouped(entries.filter((entry) => entry.rack && entry.slot), (entry) => entry.rack);
  const homeless = entries.filter((entry) => !entry.rack || !entry.slot).map((entry) => entry.name);
  const drawn = [...racks].sort(([a], [b]) => ORDER.compare(a, b)).map(([rack, members]) => drawing(rack, members, states));
  if (homeless.length) drawn.push(element('p', 'none', `Without a place: ${list(homeless, 12)}.`));
  show(place, ...drawn);
}

function drawing(rack, members, states) {
  const rows = grouped([...members].sort((a, b) => ORDER.compare(a.slot, b.slot)), (entry) => row(entry.slot));
  return element('div', 'rack', element('h3', '', rack), ...[...rows.values()].map((slots) => element('ol', 'slots', ...bySlot(slots, states))));
}

function bySlot(entries, states) {
  return [...grouped(entries, (entry) => entry.slot)].map(([slot, there]) => {
    const node = element('li', '', element('b', 'slot', slot));
    for (const entry of there) node.append(trackerLink(entry.id, entry.name), states.has(entry.id) ? stateWord(states.get(entry.id)) : element('span', 'quiet', 'not heard'));
    if (there.length > 1) node.append(element('span', 'wrong', `${there.length} trackers have this slot`));
    return node;
  });
}

/** What stands before a slot's number: "S1" and "S2" lie in one row. */
function row(slot) {
  let end = slot.length;
  while (end > 0 && slot[end - 1] >= '0' && slot[end - 1] <= '9') end--;
  return slot.slice(0, end);
}

function grouped(entries, keyOf) {
  const groups = new Map();
  for (const entry of entries) groups.set(keyOf(entry), [...(groups.get(keyOf(entry)) ?? []), entry]);
  return groups;
}

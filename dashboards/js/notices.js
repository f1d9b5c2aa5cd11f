// Lines across the page for what is wrong with the page's own supply of data.
import { element, setParts } from './nodes.js';
import { age, clockWithSeconds } from './words.js';
import { rack } from '../shared/rack.js';

/** Shows what is wrong, or nothing. {@code link} is {live, refusal, heardMs}; {@code trouble} a sentence or null. */
export function showNotices(place, link, trouble, wallMs) {
  const lines = [];
  if (!link.live) lines.push(link.refusal?.unpaired ? unpaired() : element('p', 'notice', lost(link, wallMs)));
  if (rack()) lines.push(oneRack());
  if (trouble) lines.push(element('p', 'notice', trouble, ' ', ports()));
  setParts(place, lines);
}

/** Where one sees what reaches the service. */
function ports() {
  const link = element('a', '', 'Ports');
  link.href = '/ports';
  return link;
}

/** That other racks are not on this board. */
function oneRack() {
  const link = element('a', '', 'Show all racks');
  link.href = '/';
  return element('p', 'notice', `Rack ${rack()} only; alarms are told of all racks. `, link);
}

function unpaired() {
  const way = element('a', '', 'Enter a pairing code');
  way.href = 'pair';
  return element('p', 'notice', 'This browser is not let in, or no longer. What you see may be old. ', way, '.');
}

function lost({ refusal, heardMs }, wallMs) {
  if (refusal) return `The service does not give its verdicts: ${refusal.message} What you see may be old. Trying again by itself.`;
  if (!heardMs) return 'No connection to the service yet. Trying again by itself; is it running?';
  const since = clockWithSeconds(heardMs);
  return `Connection to the service lost at ${since}. What you see is ${age((wallMs - heardMs) / 1000)} old. Trying again by itself.`;
}

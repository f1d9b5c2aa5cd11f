// What is wrong with the page's own supply of data, in lines that say what to do.
import { element, setParts } from '../../js/nodes.js';
import { age, clockWithSeconds } from '../../js/words.js';
import { at } from './service.js';

/** {@code link} is {live, error, heardMs}, {@code health} the body of /health or null, {@code failed} what could not be read, {@code unknown} a soak that is not there, or null. */
export function showNotices(place, link, health, failed, unknown) {
  const lines = unknown ? [notice(`No soak “${unknown}” of this tracker is stored; below is its newest.`)] : [];
  if (!link.live) lines.push(link.error?.unpaired ? unpaired() : notice(lost(link)));
  const database = health?.database;
  if (database && database.state !== 'up') lines.push(notice(`The service’s database is ${database.state}: ${database.message} What needs it is old or missing below; it is asked again by itself.`));
  else if (health?.trouble) lines.push(notice(health.trouble));
  else if (failed.length && link.live) lines.push(notice(`Not read: ${failed.join('; ')}. Trying again by itself.`));
  setParts(place, lines);
}

function notice(text) {
  return element('p', 'notice', text);
}

function unpaired() {
  const way = element('a', '', 'Enter a pairing code');
  way.href = at('pair');
  return element('p', 'notice', 'This browser is not let in, or no longer. What you see may be old. ', way, '.');
}

function lost({ error, heardMs }) {
  if (!heardMs) return `No answer from the service${error ? ` (${error.message})` : ''}. Is it running? Trying again by itself.`;
  return `Connection to the service lost at ${clockWithSeconds(heardMs)}. What you see is ${age((Date.now() - heardMs) / 1000)} old. Trying again by itself.`;
}

// Every change of the limits, newest first.
import { element } from '../../js/nodes.js';
import { unit } from '../../js/words.js';
import { show, table } from '../../shared/parts.js';
import { moment } from '../../shared/times.js';

const ORIGINS = { defaults: 'the defaults', file: 'a limits file', http: 'this page or a program' };

/** Where limits came from, in words. */
export function origin(word) {
  return ORIGINS[word] ?? word;
}

export function showHistory(place, history, described) {
  show(place, table('Changes of the limits', [
    { head: 'since', cell: (entry) => moment(entry.since) },
    { head: 'from', cell: (entry) => origin(entry.origin) },
    { head: 'what became other', wide: true, cell: (entry) => changes(entry.differences, described) },
  ], history));
}

function changes(changed, described) {
  if (!changed.length) return ['nothing yet: with these it began'];
  return [element('ul', '', ...changed.map(({ field, unit: name, was, is }) => element('li', '',
    `${described[field]?.title ?? field}: ${value(was, name)} `, element('span', 'quiet', 'became'), ' ', element('b', '', value(is, name)))))];
}

function value(number, name) {
  return number === null ? 'open' : `${number} ${unit(name)}`.trim();
}

// Moments as people read them, in the reader's own zone.
import { element } from '../js/nodes.js';
import { age, clock, clockWithSeconds, day, sameDay } from '../js/words.js';

const WITH_ZONE = new Intl.DateTimeFormat('en-GB', { timeZoneName: 'short' });
const YEAR = new Intl.DateTimeFormat('en-GB', { year: 'numeric' });
const MS_PER_MIN = 60_000;

/** The zone that holds at a moment: "CET". */
export function zone(ms) {
  return WITH_ZONE.formatToParts(ms).find((part) => part.type === 'timeZoneName').value;
}

/** "Mon 2 Mar, 08:00"; with its year where that is not this one. */
export function told(ms) {
  const year = YEAR.format(ms);
  return `${day(ms)}${year === YEAR.format(Date.now()) ? '' : ` ${year}`}, ${clock(ms)}`;
}

/** The same as an element that carries the exact moment. */
export function moment(text) {
  return stamped(text, told(Date.parse(text)));
}

/** The end of something that began at another moment: without its day where both share it. */
export function until(text, from) {
  const ms = Date.parse(text);
  return stamped(text, sameDay(ms, Date.parse(from)) ? clock(ms) : told(ms));
}

function stamped(text, words) {
  const ms = Date.parse(text);
  const node = element('time', '', words);
  node.dateTime = text;
  node.title = `${day(ms)} ${YEAR.format(ms)}, ${clockWithSeconds(ms)} ${zone(ms)}`;
  return node;
}

/** How long from one to the other: "42 min". */
export function length(from, to) {
  return age((Date.parse(to) - Date.parse(from)) / 1000);
}

/** What a field for day and time takes: the moment in the reader's zone, to the minute. */
export function toField(text) {
  const ms = Date.parse(text);
  if (!Number.isFinite(ms)) return '';
  return new Date(ms - new Date(ms).getTimezoneOffset() * MS_PER_MIN).toISOString().slice(0, 16);
}

/** The moment that such a field means, or null where it is empty. */
export function fromField(value) {
  return value ? new Date(value).toISOString() : null;
}

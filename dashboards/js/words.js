// Numbers, units, ages and times as people read them. Nothing here knows of trackers.

const UNITS = {
  degC: '°C', 'degC/min': '°C/min', 'deg/s': '°/s', 'deg/min': '°/min', dps: '°/s',
  'deg/s per degC': '°/s per °C', 'deg/h': '°/h', 'deg/sqrt(h)': '°/√h', 'deg/s/sqrt(s)': '°/s/√s', s: 's', min: 'min', Hz: 'Hz',
};
const DECIMALS = { '°C': 1, '°C/min': 2, '°/s': 3, '°/min': 2, s: 0 };

/** The printed form of a unit of the interface, for example "°C" for "degC"; unknown ones as they are. */
export function unit(name) {
  return UNITS[name] ?? name ?? '';
}

/** A sentence of the service with real degree, plus-minus and minus signs, and numbers kept together with their units. */
export function pretty(text) {
  return (text ?? '')
    .replace(/\bdegC\b/g, '°C')
    .replace(/\bdeg\/(s|min)\b/g, '°/$1')
    .replace(/ (?:\+-|±) /g, '\u00a0±\u00a0')
    .replace(/(^|[\s(])-(?=\d)/g, '$1−')
    .replace(/(\d) (°|s\b|min\b)/g, '$1\u00a0$2');
}

/** The text with a capital at its beginning. */
export function sentence(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Decimals with which a value of this printed unit is told. */
export function decimalsOf(printedUnit) {
  return DECIMALS[printedUnit] ?? 2;
}

/** A number with that many decimals and a true minus sign; never "−0.00". */
export function number(value, decimals) {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** The same, with its sign always told. */
export function signed(value, decimals) {
  const text = number(value, decimals);
  return text.startsWith('−') ? text : `+${text}`;
}

/** A limit as short as it can be told exactly: 28, 0.1, 0.0125. */
export function limit(value, decimals) {
  const short = String(Number(value.toPrecision(6)));
  const given = short.split('.')[1]?.length ?? 0;
  return number(value, Math.max(given, given === 0 ? 0 : decimals));
}

/** A length of time in words: "20 s", "4 min", "1 h 5 min", "3 days". */
export function age(seconds) {
  const s = Math.max(0, Math.round(seconds));
  if (s < 100) return `${s}\u00a0s`;
  const min = Math.round(s / 60);
  if (min < 100) return `${min}\u00a0min`;
  const h = Math.floor(min / 60);
  if (h < 48) return min % 60 ? `${h} h ${min % 60} min` : `${h} h`;
  return `${Math.round(h / 24)} days`;
}

const COUNTS = ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** A count as it is spoken: "ten", "14". */
export function count(n) {
  return COUNTS[n] ?? String(n);
}

const SHORT = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
const LONG = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23' });
const DAY = new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short' });

/** Hour and minute in the reader's own zone; milliseconds since 1970. */
export function clock(ms) {
  return SHORT.format(ms);
}

/** Hour, minute and second. */
export function clockWithSeconds(ms) {
  return LONG.format(ms);
}

/** For example "Tue 3 Mar". */
export function day(ms) {
  return DAY.format(ms);
}

/** Whether both fall on the same day where the reader is. */
export function sameDay(aMs, bMs) {
  return new Date(aMs).toDateString() === new Date(bMs).toDateString();
}

/** "one", "one and two", "one, two and three", "one, two and 4 more". */
export function list(names, most = 3) {
  if (names.length > most) {
    const shown = names.slice(0, most - 1);
    return `${shown.join(', ')} and ${names.length - shown.length} more`;
  }
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

// The story of a soak in a few sentences.
import { element } from '../../js/nodes.js';
import { age, clock, day, number, pretty, sameDay, sentence } from '../../js/words.js';
import { known, told } from './estimate.js';
import { segments } from './ribbon.js';

const ENDED = { taken_off: 'taken off', silence: 'fell silent', late_reboot: 'rebooted after a pause', cooler_reboot: 'rebooted cooler', clock_set: 'its clock was set back' };

/** As parts. */
export function summary(soak) {
  return [`${span(soak)} ${ready(soak)} `, ...heading(soak)];
}

/** An estimate in seconds, in minutes. */
function minutes({ value, low, high }) {
  return { value: value / 60, low: typeof low === 'number' ? low / 60 : null, high: typeof high === 'number' ? high / 60 : null };
}

function span({ soak, columns, nowS }) {
  const from = Date.parse(soak.start);
  const to = soak.ended ? Date.parse(soak.end) : nowS * 1000;
  const c = (columns?.c.mean ?? []).filter((v) => v !== null);
  const length = age((to - from) / 1000);
  const when = sameDay(from, Date.now()) ? '' : `${sentence(day(from))} ${clock(from)}: `;
  const end = soak.ended ? `, then ${ENDED[soak.ended] ?? soak.ended.replaceAll('_', ' ')}` : '';
  if (!c.length) return `${when}${length} long${end}.`;
  return `${when}${c.at(-1) >= c[0] ? 'Warmed' : 'Went'} from ${number(c[0], 1)} to ${number(c.at(-1), 1)}\u00a0°C in ${length}${end}.`;
}

function ready(soak) {
  const parts = segments(soak);
  const first = parts.find((part) => part.state === 'ready');
  if (!first) return soak.soak.ended ? 'It was never ready.' : 'Not ready yet.';
  const last = parts.at(-1);
  const minutes = age(first.from - Date.parse(soak.soak.start) / 1000);
  if (last.state === 'ready' && !soak.soak.ended) return `Ready since ${clock(last.from * 1000)}, first after ${minutes}.`;
  return `First ready after ${minutes}, at ${clock(first.from * 1000)}.`;
}

function heading({ warmUp, readiness }) {
  const parts = [];
  if (readiness?.ready_at) {
    const { expected, earliest, latest } = readiness.ready_at;
    const [at, from, to] = [expected, earliest, latest].map((text) => clock(Date.parse(text)));
    parts.push('Expected ready at ', element('b', '', at), from === to ? '. ' : ` (${from} to ${to}). `);
  }
  if (!warmUp) return parts;
  if (warmUp.reason) return [...parts, `${sentence(pretty(warmUp.reason))}.`];
  const taus = warmUp.time_constants_s.at(-1);
  parts.push('It levels at ', element('b', '', told(warmUp.plateau_c, '°C', 1)));
  if (warmUp.prior_only) parts.push('; its time constant does not show in this soak');
  else if (known(taus)) parts.push(`, time constant ${told(minutes(taus), 'min', 1)}`);
  return [...parts, '.'];
}

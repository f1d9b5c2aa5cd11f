// What the ports see: each with what is wrong with it, in the service's words.
import { element } from '../../js/nodes.js';
import { age, list, number, pretty, sentence } from '../../js/words.js';
import { shape } from '../../js/shapes.js';
import { show, table } from '../../shared/parts.js';

/** Trackers print other things than readings now and then; this share of their lines is no trouble. */
const CHATTER = 0.05;

/** Shows the ports; {@code nowMs} is compared with when they were last heard. */
export function showPorts(place, ports, nowMs) {
  show(place, table('Ports of the rack', [
    { head: 'slot', cell: (p) => element('b', '', p.slot || 'any') },
    { head: 'port', cell: (p) => `${p.port}${p.baud ? ` at ${p.baud}` : ''}` },
    { head: 'is', cell: (p) => word(p) },
    { head: 'lines', number: true, cell: (p) => (p.lines ? `${number(p.lines_per_s, 1)} a second` : 'none') },
    { head: 'whose', cell: (p) => whose(p) },
    { head: 'what is wrong', wide: true, cell: (p) => wrong(p, nowMs) },
  ], ports));
}

/** "12 ports: 11 heard, 1 open, silent". */
export function portsInWords(ports) {
  const words = ports.map((port) => state(port)[1]);
  const counts = [...new Set(words)].map((each) => `${words.filter((word) => word === each).length} ${each}`);
  return `${ports.length === 1 ? '1 port' : `${ports.length} ports`}: ${counts.join('; ')}`;
}

/** Whether lines come that can be read. */
export function talks(port) {
  return port.open && port.readings > 0;
}

function state(port) {
  if (talks(port)) return ['keep', 'heard'];
  if (!port.open) return ['undone', 'not open'];
  return port.lines ? ['unknown', 'not understood'] : ['silent', 'open but silent'];
}

function word(port) {
  const [picture, words] = state(port);
  return element('span', 'port-state', shape(picture), words);
}

function whose({ trackers, heard_once: once }) {
  const parts = trackers.length ? [element('b', '', list(trackers, 6))] : [];
  if (once.length) parts.push(element('span', 'quiet', `${parts.length ? ', ' : ''}${list(once, 4)} heard once; it counts from the second line on`));
  return parts.length ? parts : ['–'];
}

function wrong(port, nowMs) {
  const parts = [];
  if (port.reason) parts.push(element('p', '', end(sentence(pretty(port.reason)))));
  if (port.last_heard && nowMs - Date.parse(port.last_heard) > 10_000) parts.push(element('p', '', `Last heard ${age((nowMs - Date.parse(port.last_heard)) / 1000)} ago.`));
  for (const { count, reason, example } of port.rejected > CHATTER * port.lines ? port.rejections.slice(0, 2) : []) {
    parts.push(element('p', '', `${count} of ${port.lines} lines gave nothing: ${end(pretty(reason))} `, element('span', 'quiet', example)));
  }
  if (parts.length) return parts;
  return [talks(port) ? 'nothing' : 'Nothing that can be read has come of it yet.'];
}

function end(words) {
  return words.endsWith('.') ? words : `${words}.`;
}

// One port of the rack in words; what is wrong and what to try is said by the service.
import { pretty, sentence } from './words.js';

/** Those with a trouble. */
export function troubled(ports) {
  return ports.filter((port) => port.trouble);
}

/** What people call it: its slot, else its place. */
export function portName({ slot, port }) {
  return slot ? `Slot ${slot}` : port;
}

/** What is wrong, as a sentence. */
export function troubleOf({ trouble }) {
  return `${sentence(pretty(trouble))}${trouble.endsWith('.') ? '' : '.'}`;
}

/** What comes of it. */
export function heardOf({ open, trackers, lines_per_s: rate, rejected, lines, lost, senders }) {
  if (!open) return '';
  const parts = [trackers.length ? trackers.join(', ') : 'no tracker yet', `${rate.toFixed(1)} lines/s`];
  if (senders.length) parts.push(`${senders.length} ${senders.length === 1 ? 'sender' : 'senders'}`);
  if (rejected) parts.push(`${rejected} of ${lines} lines gave nothing`);
  if (lost) parts.push(`${lost} lost`);
  return `${parts.join(', ')}.`;
}

/** "Spool: 1200 samples wait, 53 % full." */
export function spoolWords({ waiting, used_bytes: used, limit_bytes: most, refused, damaged }) {
  const parts = [`${waiting} ${waiting === 1 ? 'sample waits' : 'samples wait'} to be stored`, `${Math.round(100 * used / most)} % full`];
  if (refused) parts.push(`${refused} refused for good`);
  if (damaged) parts.push(`${damaged} damaged`);
  return `Spool: ${parts.join(', ')}.`;
}

// Whether a unit is accepted: a word with its shape; and how many of some are.
import { element } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { pretty } from '../../js/words.js';

const SHAPES = { accept: 'keep', 'look again': 'do_again', reject: 'undone' };
const ORDER = ['reject', 'look again', 'accept'];

/** The word with its shape. */
export function verdictWord({ verdict }) {
  const node = element('span', 'verdict-word', shape(SHAPES[verdict]), verdict);
  node.dataset.verdict = verdict.replace(' ', '-');
  return node;
}

/** Why, in print. */
export function verdictReason({ reason }) {
  return pretty(reason);
}

/** Whether somebody has to decide something. */
export function isOpen({ verdict }) {
  return verdict !== 'accept';
}

/** Worst first. */
export function byVerdict(a, b) {
  return ORDER.indexOf(a.screening.verdict) - ORDER.indexOf(b.screening.verdict);
}

/** "20 accept, 2 look again, 2 reject". */
export function verdictCounts({ accept, look_again: again, reject }) {
  return `${accept} accept, ${again} look again, ${reject} reject`;
}

/** The same of units. */
export function countsOf(units) {
  const of = (verdict) => units.filter((unit) => unit.screening.verdict === verdict).length;
  return verdictCounts({ accept: of('accept'), look_again: of('look again'), reject: of('reject') });
}

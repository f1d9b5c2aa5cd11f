// The units of one lot or several, those that need a decision first; what is accepted is folded after a few.
import { element, flag } from '../../js/nodes.js';
import { count, link, show, table, trackerLink } from '../../shared/parts.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { pretty } from '../../js/words.js';
import { lotPage } from './service.js';
import { decimalsFor, printed, title } from './metrics.js';
import { byVerdict, isOpen, verdictReason, verdictWord } from './verdict.js';

const ACCEPTED_SHOWN = 6;

/** Units with their lot, the worst first, then by size. */
export function inOrder(lots) {
  const size = (unit) => (known(unit.value) ? Math.abs(unit.value.value) : -1);
  return lots.flatMap((lot) => lot.units.map((unit) => ({ ...unit, lot: lot.lot }))).sort((a, b) => byVerdict(a, b) || size(b) - size(a));
}

/** Columns {head, cell} of a table of units by one figure. */
export function unitColumns(units, metric, unit, { withLot = true, compact = false } = {}) {
  const decimals = decimalsFor(units.map((one) => one.value));
  return [
    { head: 'unit', cell: (u) => (compact ? u.name : trackerLink(u.tracker, u.name)) },
    ...(withLot ? [{ head: 'lot', cell: (u) => (compact ? u.lot : link(lotPage(u.lot), u.lot)) }] : []),
    { head: 'soaks', number: true, cell: (u) => String(u.soaks) },
    { head: `${title(metric)}, ${printed(unit)}`, number: true, cell: (u) => (known(u.value) ? element('b', '', bare(u.value, decimals)) : element('span', 'quiet', `not known: ${pretty(u.value.reason)}`)) },
    { head: 'screening', cell: (u) => verdictWord(u.screening) },
    { head: 'why', wide: true, cell: (u) => verdictReason(u.screening) },
  ];
}

/** Draws them into a place and keeps them folded, or not, as the reader had them. */
export class UnitTable {
  #place;
  #unfolded = false;
  #drawn = null;

  constructor(place) {
    this.#place = place;
  }

  show(units, metric, unit, options) {
    this.#drawn = () => this.show(units, metric, unit, options);
    const open = units.filter((u) => isOpen(u.screening)).length;
    const folded = this.#unfolded ? 0 : Math.max(0, units.length - open - ACCEPTED_SHOWN);
    const shown = units.slice(0, units.length - (folded > 2 ? folded : 0));
    const rows = table('Units and their screening', unitColumns(units, metric, unit, options), shown, (tr, u) => flag(tr, 'data-open', isOpen(u.screening)));
    show(this.#place, rows, ...(shown.length < units.length ? [this.#more(folded)] : []));
  }

  #more(folded) {
    const more = element('button', 'act small', `Show ${count(folded, 'more unit')}, all accepted`);
    more.type = 'button';
    more.addEventListener('click', () => {
      this.#unfolded = true;
      const from = this.#place.querySelectorAll('tbody tr').length;
      this.#drawn();
      this.#place.querySelectorAll('tbody tr')[from]?.querySelector('a')?.focus();
    });
    return element('p', 'acts', more);
  }
}

/** The same to be taken away. */
export function unitsToTake(units, metric, unit) {
  const columns = [{ name: 'tracker' }, { name: 'unit' }, { name: 'lot' }, { name: 'soaks' }, { name: title(metric), unit: printed(unit) }, { name: 'low, 95 %' }, { name: 'high, 95 %' }, { name: 'screening' }, { name: 'why' }];
  const rows = units.map((u) => [u.tracker, u.name, u.lot, u.soaks, u.value.value, u.value.low ?? null, u.value.high ?? null, u.screening.verdict, verdictReason(u.screening) || u.value.reason || '']);
  return { columns, rows };
}

// All lots: how many units, when and where they were measured, what their coefficients come to, how many need a decision.
import { element } from '../../js/nodes.js';
import { list, number } from '../../js/words.js';
import { count, link, show, table } from '../../shared/parts.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { decimalsFor, places, printed, USUAL } from './metrics.js';
import { lotPage } from './service.js';

/** {headline, lead} of a page of lots. */
export function listWords(lots, isPart) {
  if (!lots.length) return { headline: 'No lot yet', lead: '' };
  const due = lots.filter(({ verdicts }) => verdicts.reject + verdicts.look_again);
  const sum = (key) => due.reduce((total, lot) => total + lot.verdicts[key], 0);
  const names = list(due.map((lot) => lot.lot), 4);
  return {
    headline: due.length ? `${count(sum('reject'), 'unit')} to reject, ${sum('look_again')} to look at again` : `${count(lots.length, 'lot')}, every unit accepted`,
    lead: `${due.length ? `In ${names}. ` : ''}${isPart ? 'A page of the lots, by name. ' : ''}Choose lots to compare them.`,
  };
}

/** {@code on} is {chosen: set of lots, choose(lot, whether)}. */
export class LotList {
  #place;
  #on;

  constructor(place, on) {
    this.#place = place;
    this.#on = on;
  }

  show(lots) {
    const unit = printed(lots[0]?.metrics[USUAL].unit);
    show(this.#place, table('Lots by name', [
      { head: 'compare', cell: (lot) => this.#box(lot.lot) },
      { head: 'lot', cell: (lot) => element('span', 'unit', link(lotPage(lot.lot), lot.lot)) },
      { head: 'to reject', number: true, cell: (lot) => told(lot.verdicts.reject) },
      { head: 'to look at again', number: true, cell: (lot) => told(lot.verdicts.look_again) },
      { head: 'units', number: true, cell: (lot) => (lot.listed > lot.unit_count ? `${lot.unit_count} of ${lot.listed}` : String(lot.unit_count)) },
      { head: 'soaks', number: true, cell: (lot) => String(lot.soaks) },
      { head: 'measured', cell: (lot) => element('span', 'days', days(lot)) },
      { head: 'racks', cell: (lot) => list(lot.racks, 3) },
      { head: `median coefficient, ${unit}`, number: true, cell: (lot) => median(lot.metrics[USUAL]) },
      { head: 'its units’ spread', number: true, cell: (lot) => spread(lot.metrics[USUAL]) },
    ], lots));
  }

  #box(lot) {
    const box = element('input', '');
    Object.assign(box, { type: 'checkbox', checked: this.#on.chosen.has(lot) });
    box.dataset.key = `choose ${lot}`;
    box.setAttribute('aria-label', `Compare ${lot}`);
    box.addEventListener('change', () => this.#on.choose(lot, box.checked));
    return box;
  }
}

function told(number) {
  return number ? element('b', '', String(number)) : '–';
}

/** "1 to 8 Mar 2026", as the service tells days. */
export function days({ first, last }) {
  if (!first) return 'not yet';
  return first === last ? first : `${first} to ${last}`;
}

function median(metric) {
  return metric.median === null ? '–' : element('b', '', number(metric.median, places(metric.median || 1, 2)));
}

function spread({ sd }) {
  return known(sd) ? bare(sd, decimalsFor([sd])) : '–';
}

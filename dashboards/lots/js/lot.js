// One lot: what is to be decided, its units by a figure, the limits by which they are screened, all its figures.
import { Figure } from '../../charts/figure.js';
import { element, setParts, setText } from '../../js/nodes.js';
import { list, number, pretty } from '../../js/words.js';
import { asked, note, withParameters } from '../../shared/address.js';
import { count, table } from '../../shared/parts.js';
import { bare, known } from '../../tracker/js/estimate.js';
import { days } from './list.js';
import { decimalsFor, options, places, printed, title, USUAL } from './metrics.js';
import { Screening } from './screening.js';
import { inOrder, UnitTable, unitsToTake } from './units.js';
import { verdictCounts } from './verdict.js';

const at = (id) => document.getElementById(id);

export class Lot {
  #lot = null;
  #units = new Figure('units', 'Units and screening', { table: () => unitsToTake(this.#inOrder(), this.#metric, this.#lot.metrics[this.#metric].unit) });
  #figures = new Figure('figures', 'All its figures', { table: () => toTake(this.#lot) });
  #table;
  #select = element('select', '');
  #screening;

  /** {@code saved(words)} is called when limits were saved. */
  constructor(saved) {
    const label = element('label', '', 'by');
    label.htmlFor = this.#select.id = 'by-figure';
    const rows = element('div', '');
    this.#units.body.append(element('p', 'by', label, ' ', this.#select), rows);
    this.#table = new UnitTable(rows);
    this.#select.addEventListener('change', () => {
      note(withParameters({ metric: this.#select.value === USUAL ? null : this.#select.value }));
      this.#drawUnits();
    });
    at('units-place').append(this.#units.node);
    at('figures-place').append(this.#figures.node);
    this.#screening = new Screening(saved);
  }

  get #metric() {
    const wanted = asked().get('metric');
    return wanted in this.#lot.metrics ? wanted : USUAL;
  }

  #inOrder() {
    const metric = this.#metric;
    return inOrder([{ ...this.#lot, units: this.#lot.units.map((unit) => ({ ...unit, value: unit.values[metric] })) }]);
  }

  /** Shows a lot with all its units, and the limits that hold. */
  show(lot, limits) {
    this.#lot = lot;
    const { reject, look_again: again } = lot.verdicts;
    setText(at('headline'), `${lot.lot}: ${reject || again ? `${reject} of ${count(lot.unit_count, 'unit')} to reject, ${again} to look at again` : lot.unit_count ? `${count(lot.unit_count, 'unit')}, all accepted` : 'no unit measured yet'}`);
    setText(at('lead'), `${count(lot.soaks, 'soak')}; measured ${days(lot)}${lot.racks.length ? ` on ${list(lot.racks, 4)}` : ''}.${lot.listed > lot.unit_count ? ` ${count(lot.listed - lot.unit_count, 'unit')} of the roster ${lot.listed - lot.unit_count === 1 ? 'has' : 'have'} no figures yet.` : ''}`);
    this.#select.replaceChildren(...options(Object.keys(lot.metrics), this.#metric));
    this.#screening.show(lot, limits);
    this.#figures.say([`${count(lot.unit_count, 'unit')}; spreads with the error of measuring taken out, 95 % intervals.`], lot.lot);
    setParts(this.#figures.body, [figureTable(lot)]);
    this.#drawUnits();
  }

  #drawUnits() {
    const metric = this.#metric;
    const why = this.#lot.misfits_reason ? ` Nobody was tested for not fitting the lot: ${pretty(this.#lot.misfits_reason)}.` : '';
    this.#units.say(['Those that need a decision first. ', element('b', '', verdictCounts(this.#lot.verdicts)), `.${why}`], this.#lot.lot);
    this.#table.show(this.#inOrder(), metric, this.#lot.metrics[metric].unit, { withLot: false });
  }
}

function figureTable(lot) {
  const rows = Object.entries(lot.metrics);
  return table(`Figures of ${lot.lot}`, [
    { head: 'figure', cell: ([name, m]) => `${title(name)}, ${printed(m.unit)}` },
    { head: 'units', number: true, cell: ([, m]) => String(m.n) },
    { head: 'median', number: true, cell: ([, m]) => (m.median === null ? '' : element('b', '', tell(m.median))) },
    { head: 'units’ spread', number: true, cell: ([, m]) => (known(m.sd) ? bare(m.sd, decimalsFor([m.sd])) : '') },
    { head: '95 % of all units within', number: true, cell: ([, m]) => (m.tolerance.reason ? '' : `${tell(m.tolerance.low)} to ${tell(m.tolerance.high)}`) },
    { head: 'outside the limit', number: true, cell: ([, m]) => (m.outside ? outside(m.outside) : '') },
    { head: 'what is missing', wide: true, cell: ([, m]) => pretty([missing(m, lot.unit_count - m.n), m.n > 0 && m.tolerance.reason].filter(Boolean).join('; ')) },
  ], rows);
}

function tell(value) {
  return number(value, value ? places(value, 2) : 0);
}

/** The reason is that of one unit; nobody shall take it for that of the lot. */
function missing({ missing: reason }, without) {
  return reason && without > 0 ? `${count(without, 'unit')} without it${without > 1 ? ', the first' : ''}: ${reason}` : reason;
}

/** "6 over 0.0333"; of a figure that has a place rather than a size "2 outside 28.0 to 34.0". */
function outside({ count: n, limit_low: low, limit_high: high }) {
  return low === null || low === -high ? `${n} over ${tell(high)}` : `${n} outside ${tell(low)} to ${tell(high)}`;
}

function toTake(lot) {
  const columns = [{ name: 'figure' }, { name: 'unit' }, { name: 'units' }, { name: 'median' }, { name: 'spread' }, { name: 'low, 95 %' }, { name: 'high, 95 %' },
    { name: 'seen' }, { name: 'error of measuring' }, { name: 'tolerance, low' }, { name: 'tolerance, high' }, { name: 'limit, low' }, { name: 'limit, high' }, { name: 'outside' }, { name: 'note' }];
  const rows = Object.entries(lot.metrics).map(([name, m]) => [title(name), printed(m.unit), m.n, m.median, m.sd.value, m.sd.low ?? null, m.sd.high ?? null, m.observed_sd, m.error_sd,
    m.tolerance.low, m.tolerance.high, m.outside?.limit_low ?? null, m.outside?.limit_high ?? null, m.outside?.count ?? null, m.missing ?? m.tolerance.reason ?? '']);
  return { columns, rows };
}

// What the soak is judged by, and what its figures rest on.
import { Figure } from '../../charts/figure.js';
import { element, setParts } from '../../js/nodes.js';
import { limit, number, pretty } from '../../js/words.js';
import { known, told } from './estimate.js';
import { at } from './service.js';

/** The limits that a person asks for first: [name, value with unit]. */
export function limitRows(l) {
  return [
    ['operating band', `${limit(l.band_low_c, 1)} to ${limit(l.band_high_c, 1)} °C`], ['use', `${limit(l.use_temperature_c, 1)} °C`],
    ['settled', `within ±${limit(l.temperature_rate_limit_c_per_min, 2)} °C/min`], ['bias shift', `within ±${limit(l.shift_limit_dps, 3)} °/s in ${number(l.calibration_s / 60, 0)} min`],
    ['dwell', `${number(l.dwell_s, 0)} s`], ['still for', `${number(l.still_for_s, 0)} s`], ['hot', `above ${limit(l.hot_c, 1)} °C or rising faster than ${limit(l.rise_limit_c_per_min, 1)} °C/min`],
  ];
}

export class Terms {
  #figure = new Figure('terms', 'Notes and terms', { className: 'half', table: () => ({ columns: [{ name: 'what' }, { name: 'value' }], rows: this.#rows }) });
  #rows = [];
  #links = element('p', 'links');

  constructor(place) {
    place.append(this.#figure.node);
  }

  /** {soak, limits, warmUp, curve, note} as far as they are known. */
  show({ soak, limits, warmUp, curve, note, readiness }, file) {
    this.#rows = [
      ...(note ? [['note', note]] : []),
      ...(limits ? limitRows(limits) : []),
      ...(warmUp && !warmUp.reason ? [['time constants', warmUp.time_constants_s.filter(known).map((e) => told(e, 's', 0)).join('; ') + (warmUp.prior_only ? ' (what is believed of any tracker; this soak does not show it)' : '')], ['warm-up fit leaves', `${number(warmUp.residual_sd_c, 3)} °C`]] : []),
      ...(readiness?.unwrapped ? [['in the open', open(readiness.unwrapped)]] : []),
      ...fitted(curve),
      ['samples', soak.samples.toLocaleString('en') + (soak.samples_kept ? '' : ', not all of them stored any more')],
    ];
    setParts(this.#figure.body, [element('dl', 'read', ...this.#rows.flatMap(([name, value]) => [element('dt', '', name), element('dd', '', value)])), this.#links]);
    this.#link(soak);
    this.#figure.say([], file);
  }

  #link({ soak, samples_kept: kept }) {
    const links = [['report to print', `soak/${encodeURIComponent(soak)}/report`], ['all seconds (CSV)', `api/soaks/${encodeURIComponent(soak)}/bins.csv`],
      ...(kept ? [['all samples (CSV)', `api/soaks/${encodeURIComponent(soak)}/samples.csv`]] : []), ['curve for firmware (C header)', `api/soaks/${encodeURIComponent(soak)}/bias-curve.h`]];
    setParts(this.#links, links.flatMap(([words, path], i) => {
      const link = element('a', '', words);
      link.href = at(path);
      return i ? [' · ', link] : [link];
    }));
  }
}

function fitted(curve) {
  if (!curve || curve.reason) return [];
  const orders = [...new Set(curve.axes.filter((a) => !a.reason).map((a) => a.order))];
  const worst = Math.max(...curve.axes.map((a) => a.residual_sd_dps ?? 0));
  const dropped = curve.dropped_blocks ? `, ${curve.dropped_blocks} left out` : '';
  return [['bias fit', `order ${orders.join(' and ')}, generalized least squares, ${number(curve.range_c[0], 1)} to ${number(curve.range_c[1], 1)} °C`],
    ['bias fit leaves', `${number(worst, 4)} °/s in ${curve.blocks} blocks${dropped}`]];
}

function open({ time_s: time, source, reason }) {
  return known(time) ? `bias holds for ${told(time, 's', 0)}, by the cooling of ${source}` : pretty(reason);
}

// What a comparison shows, asked for at once.
import { ask } from '../../shared/call.js';
import { lotsQuery } from './service.js';

const PATIENCE_S = 30;

/** {comparison, curves, constants} of what an address asks for; the last is the comparison by time constant, null of one lot. */
export async function readComparison({ lots, metric, at_c: atC, ratio }) {
  const options = { seconds: PATIENCE_S };
  const [comparison, curves, constants] = await Promise.all([
    ask(`/api/lot-comparison?${lotsQuery(lots, { metric, at_c: atC, ratio })}`, options),
    ask(`/api/lot-curves?${lotsQuery(lots, { at_c: atC })}`, options),
    lots.length > 1 ? ask(`/api/lot-comparison?${lotsQuery(lots, { metric: 'time_constant_s' })}`, options) : null,
  ]);
  return { comparison, curves, constants };
}

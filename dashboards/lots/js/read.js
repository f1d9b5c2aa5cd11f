// What a comparison shows, asked for at once.
import { ask, call } from '../../shared/call.js';
import { lotsQuery } from './service.js';

const PATIENCE_S = 30;

/** {comparison, curves, constants} of what an address asks for; the last two are null where the service has them not. */
export async function readComparison({ lots, metric, at_c: atC, ratio }) {
  const seconds = PATIENCE_S;
  const [comparison, curves, constants] = await Promise.all([
    ask(`/api/lot-comparison?${lotsQuery(lots, { metric, at_c: atC, ratio })}`, { seconds }),
    call('GET', `/api/lot-curves?${lotsQuery(lots, { at_c: atC })}`, { seconds }),
    lots.length > 1 ? call('GET', `/api/lot-comparison?${lotsQuery(lots, { metric: 'time_constant_s' })}`, { seconds }) : null,
  ]);
  return { comparison, curves: curves.ok ? curves.body : null, constants: constants?.ok ? constants.body : null };
}

// How every unit warmed up: the share of the way to its plateau against the minutes.
import { line } from '../../charts/layers.js';
import { numberLabels } from '../../charts/ticks.js';
import { list, pretty, sentence } from '../../js/words.js';
import { key, LOOKS } from './looks.js';
import { shareLabels } from './spread.js';

/** How a chart of them is set up. */
export const WARM_UPS_SPEC = { x: { labels: numberLabels, size: 30, space: 44 }, y: { labels: shareLabels, size: 40, space: 20 }, right: 10 };

/** What a chart shows. */
export function warmUpsPicture({ minutes, lots }) {
  const last = lastMinute(minutes, lots);
  return {
    x: [0, last], y: [-0.03, 1.12], xs: minutes,
    layers: [
      ...lots.flatMap((lot, k) => lot.units.filter((unit) => unit.warm_up.shares.length).map((unit) => line(minutes, unit.warm_up.shares, { stroke: LOOKS[k].colour, width: 1, dash: LOOKS[k].dash, alpha: 0.75 }))),
      key(lots, false),
    ],
  };
}

/** Nothing is drawn of the time after all were taken off. */
function lastMinute(minutes, lots) {
  const ends = lots.flatMap((lot) => lot.units.map((unit) => unit.warm_up.shares.findLastIndex((v) => v !== null)));
  return minutes[Math.max(1, ...ends)] ?? 60;
}

/** Whether anything can be drawn. */
export function anyWarmUp({ lots }) {
  return lots.some((lot) => lot.units.some((unit) => unit.warm_up.shares.length));
}

/** What is said of them; {@code constants} is the lots' comparison by time constant. */
export function warmUpsWords(answer, constants) {
  const none = answer.lots.flatMap((lot) => lot.units.filter((unit) => !unit.warm_up.shares.length));
  const why = none.length ? ` Not drawn: ${list(none.map((unit) => `${unit.name} (${pretty(unit.warm_up.reason)})`), 3)}.` : '';
  const found = constants ? `${sentence(pretty(constants.finding))}. ` : '';
  return `${found}Each unit’s newest soak with a plateau, as measured.${why}`;
}

/** All of it as a table. */
export function warmUpsToTake({ minutes, lots }) {
  const columns = [{ name: 'lot' }, { name: 'unit' }, { name: 'plateau', unit: '°C' }, ...minutes.map((min) => ({ name: String(min), unit: 'min' }))];
  const rows = lots.flatMap((lot) => lot.units.filter((unit) => unit.warm_up.shares.length).map((unit) => [lot.lot, unit.name, unit.warm_up.plateau_c, ...unit.warm_up.shares]));
  return { columns, rows };
}

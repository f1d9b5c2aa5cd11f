// The verdict on a soak, and its figures with their intervals, as rows of the report.
import { verdict as checkWords } from '../../js/calibrated.js';
import { element } from '../../js/nodes.js';
import { age, clock, day, number, pretty } from '../../js/words.js';
import { bare, known, minuteDecimals, told } from '../../tracker/js/estimate.js';
import { FIGURES } from '../../tracker/js/noise.js';
import { segments } from '../../tracker/js/ribbon.js';

/** {state, words} of what the soak came to. */
export function verdict(story) {
  const parts = segments(story);
  const last = parts.at(-1)?.state ?? 'starting';
  const ready = parts.filter((p) => p.state === 'ready');
  if (!ready.length) return { state: last, words: `Never ready; ${story.soak.ended ? 'at its end' : 'now'} ${last}.` };
  const after = age(ready[0].from - Date.parse(story.soak.start) / 1000);
  const held = age(ready.reduce((sum, p) => sum + p.to - p.from, 0));
  const end = last === 'ready' ? (story.soak.ended ? 'ready to its end' : 'ready now') : `${story.soak.ended ? 'at its end' : 'now'} ${last}`;
  return { state: last === 'ready' ? 'ready' : last, words: `Ready first after ${after}, at ${clock(ready[0].from * 1000)}; ready for ${held} in all; ${end}.` };
}

/** Rows [name, x, y, z] of what each axis has a figure of. */
export function axisRows(curve, noise) {
  const rows = [];
  // Of three columns a phone has no room for a figure on one line.
  const add = (name, axes, key, decimals) => {
    if (axes?.length) rows.push([name, ...axes.map((a) => (known(a[key]) ? bare(a[key], decimals).replaceAll('\u00a0', ' ') : 'not resolved'))]);
  };
  add('Coefficient, °/s per °C', curve?.axes, 'tempco_dps_per_c', 4);
  add('Span over the range, °/s', curve?.axes, 'span_dps', 4);
  add('Warming less cooling, °/s', curve?.axes, 'hysteresis_dps', 4);
  for (const [name, key, unit, decimals] of FIGURES) add(`${name}, ${unit}`, noise?.axes, key, decimals);
  return rows;
}

/** Rows [name, value] of what the soak has one figure of. */
export function soakRows({ warmUp, heading }) {
  const rows = [];
  if (warmUp) {
    rows.push(['Levels at', warmUp.reason ? pretty(warmUp.reason) : told(warmUp.plateau_c, '°C', 2)]);
    const taus = warmUp.time_constants_s.filter(known).map((e) => told(e, 's', 0)).join('; ');
    rows.push(['Time constants', warmUp.prior_only ? `not shown by this soak; believed of any tracker: ${taus}` : taus || 'not known']);
  }
  if (heading) {
    rows.push(['Heading error in use', known(heading.deg_per_min) ? told(heading.deg_per_min, '°/min', 2) : pretty(heading.deg_per_min.reason)]);
    // Why there is none is said once.
    const minutes = heading.minutes_to_5_deg;
    rows.push(['Minutes to 5°', known(minutes) ? told(minutes, 'min', minuteDecimals(minutes.value)) : 'not known']);
  }
  return rows;
}

/** The newest calibration of the soak and its check, as parts. */
export function check(marks) {
  const mark = marks.find((m) => m.status === 'mark');
  if (!mark) return ['No calibration was seen or told in this soak.'];
  const at = Date.parse(mark.at);
  const c = typeof mark.temperature_c === 'number' ? ` at ${number(mark.temperature_c, 1)} °C` : '';
  const open = mark.open_s === null ? '' : `, ${age(mark.open_s)} in the open`;
  const left = known(mark.check?.deg_per_min) ? ` Left on the worst axis: ${told(mark.check.deg_per_min, '°/min', 1)} of ${number(mark.check.limit_deg_per_min, 1)} allowed.` : '';
  return [`Calibrated ${day(at)} ${clock(at)}${c}${open}: `, ...checkWords(mark), `.${left}`];
}

/** A table with row heads. */
export function table(head, rows, caption) {
  const th = (text, scope) => {
    const node = element('th', '', text);
    node.scope = scope;
    return node;
  };
  const body = rows.map(([name, ...cells]) => element('tr', '', th(name, 'row'), ...cells.map((c) => element('td', '', c))));
  return element('table', 'report', element('caption', 'unseen', caption), ...(head ? [element('thead', '', element('tr', '', ...head.map((h) => th(h, 'col'))))] : []), element('tbody', '', ...body));
}

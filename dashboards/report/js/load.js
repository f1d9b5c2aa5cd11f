// Everything that the report tells, asked for once.
import { columns } from '../../tracker/js/columns.js';
import { ask, entry, health, soakPath, trackerPath } from '../../tracker/js/service.js';

const POINTS = 640;

/** All of a soak; null where there is none of this id. */
export async function load(id) {
  const soak = await ask(soakPath(id));
  if (!soak) return null;
  const [roster, limits, timeline, rows, marks, verdict, well] = await Promise.all([
    entry('api/trackers', soak.tracker), ask(soakPath(id, '/limits')), ask(soakPath(id, '/timeline')), ask(soakPath(id, `/bins?points=${POINTS}`)),
    ask(trackerPath(soak.tracker, '/calibrations')), entry('api/readiness', soak.tracker), health(),
  ]);
  // One after another: each is worked out from all of the soak, and the judging must not wait for a page.
  const [warmUp, noise, heading] = [await ask(soakPath(id, '/warm-up')), await ask(soakPath(id, '/noise')), await ask(soakPath(id, '/heading'))];
  const readiness = verdict?.soak === soak.soak ? verdict : null;
  const found = columns(rows.bins);
  const nowS = Date.parse(soak.ended || !readiness ? soak.end : readiness.as_of) / 1000;
  return {
    soak, roster, limits: limits?.limits ?? null, timeline: timeline.timeline, warmUp, noise, heading, columns: found, readiness, health: well, nowS,
    curve: await curve(id, limits?.limits, found), marks: (marks?.calibrations ?? []).filter((m) => m.soak === soak.soak),
    range: [Date.parse(soak.start) / 1000, nowS],
  };
}

function curve(id, limits, { c }) {
  const seen = c.mean.filter((v) => v !== null);
  const range = limits && seen.length
    ? `&low_c=${(Math.min(limits.band_low_c, ...seen) - 0.5).toFixed(2)}&high_c=${(Math.max(limits.band_high_c, ...seen) + 0.5).toFixed(2)}` : '';
  return ask(soakPath(id, `/bias-curve?points=60${range}`));
}

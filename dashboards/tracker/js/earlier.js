// The soaks of a tracker that are drawn small: with their figures, a thin course, and when they were ready first.
import { ask, soakPath, trackerPath } from './service.js';

const MOST = 12;
const POINTS = 120;

/** Fills in the data's soaks (the oldest first), what changed since the last, and all figures together. */
export async function earlier(data, id) {
  const listed = (await ask(`api/soaks?limit=${MOST}&tracker=${encodeURIComponent(id)}`)).soaks;
  // A first soak has nothing to be compared with, and figures of it may not be kept yet.
  if (listed.length < 2) return;
  const kept = await ask(trackerPath(id, '/figures'));
  // The service compares the newest soak that counts with the one before it.
  const newest = listed.find((one) => !one.left_out)?.soak === data.soak.soak;
  data.changes = newest ? kept?.changes ?? null : null;
  data.difference = newest ? kept?.curves[0] ?? null : null;
  data.together = kept?.together ?? null;
  const figures = new Map((kept?.soaks ?? []).map((one) => [one.soak, one.figures]));
  data.soaks = await Promise.all(listed.reverse().map((soak) => thin(soak, figures.get(soak.soak))));
}

async function thin(soak, figures) {
  const [rows, states] = await Promise.all([ask(soakPath(soak.soak, `/bins?points=${POINTS}`)), ask(soakPath(soak.soak, '/timeline'))]);
  const bins = rows?.bins ?? [];
  const ready = states?.timeline.find((change) => change.state === 'ready');
  return {
    ...soak, ended: soak.ended !== null, figures: figures ?? null, readyS: ready ? Date.parse(ready.time) / 1000 : null,
    course: { t: bins.map((b) => Date.parse(b.time) / 1000), c: bins.map((b) => b.temperature_c.mean) },
  };
}

// Two soaks or more beside each other: their temperatures drawn over each other, their figures in a table.
import { ask, call, Failure } from '../../shared/call.js';
import { show } from '../../shared/parts.js';
import { told } from '../../shared/times.js';
import { figures } from './figures.js';
import { overlay } from './overlay.js';

/** More lines can't be told apart. */
export const MOST = 6;
const POINTS = 400;
const PATIENCE_S = 30;

/** Reads all that is compared of these soaks. */
export async function readCompared(ids) {
  const [band, ...entries] = await Promise.all([ask('/api/limits').then((answer) => answer.limits), ...ids.map(read)]);
  const names = entries.map(({ soak }) => soak.name || soak.tracker);
  const ofOne = new Set(names).size === 1;
  const named = entries.map((entry, i) => {
    const when = told(Date.parse(entry.soak.start));
    const name = names.indexOf(names[i]) === names.lastIndexOf(names[i]) ? names[i] : `${names[i]}, ${when}`;
    // At the end of a line there is no room for what is the same of all.
    return { ...entry, name, brief: ofOne ? when : name };
  });
  return { band, entries: named };
}

async function read(id) {
  const path = `/api/soaks/${encodeURIComponent(id)}`;
  const soak = await ask(path);
  const [timeline, warmUp, curve, noise, bins] = await Promise.all(
    ['timeline', 'warm-up', 'bias-curve', 'noise', `bins?points=${POINTS}`].map((part) => known(`${path}/${part}`)),
  );
  const startMs = Date.parse(soak.start);
  const ready = timeline?.timeline.find((entry) => entry.state === 'ready');
  return {
    soak, warmUp, curve, noise,
    readyS: ready ? (Date.parse(ready.time) - startMs) / 1000 : null,
    points: (bins?.bins ?? []).filter((bin) => bin.temperature_c.mean !== null).map((bin) => [(Date.parse(bin.time) - startMs) / 1000, bin.temperature_c.mean]),
  };
}

/** A figure that the service has not of this soak is none; a service that is away is told. */
async function known(path) {
  const answer = await call('GET', path, { seconds: PATIENCE_S });
  if (!answer.ok && (answer.status === 0 || answer.status >= 500 || answer.status === 401)) throw new Failure(answer);
  return answer.ok ? answer.body : null;
}

/** Draws them. */
export function drawCompared({ svg, table }, { band, entries }) {
  overlay(svg, entries, band);
  show(table, figures(entries));
}

// The ribbon of states: drawn pale, with shape and word; filled only where it calls for a hand now. And what lies ahead.
import { shape } from '../../js/shapes.js';
import { clock } from '../../js/words.js';

const WORD_PX = 8;
const SHAPE_PX = 14;

/** Segments of a timeline, in seconds since 1970: [{state, from, to}]. */
export function segments({ timeline, soak, nowS }) {
  const end = soak.ended ? Date.parse(soak.end) / 1000 : nowS;
  return timeline.map(({ time, state }, i) => ({
    state, from: Date.parse(time) / 1000, to: i + 1 < timeline.length ? Date.parse(timeline[i + 1].time) / 1000 : end,
  })).filter((s) => s.to > s.from);
}

/** The state at a moment, as a word. */
export function stateAt(soak, s) {
  return segments(soak).find((part) => s >= part.from && s < part.to)?.state ?? '';
}

export function ribbon(soak) {
  const parts = segments(soak);
  return (pen, frame) => {
    const calls = soak.readiness?.state === 'hot' || soak.readiness?.next_step === 'calibrate';
    parts.forEach((part, i) => segment(pen, frame, part, !soak.soak.ended && i === parts.length - 1, calls));
    ahead(pen, frame, soak);
  };
}

function segment(pen, frame, { state, from, to }, now, calls) {
  const x = Math.max(frame.left, frame.x(from));
  const width = Math.min(frame.right, frame.x(to)) - x;
  if (width <= 0) return;
  const colour = `--${state}`;
  const filled = now && calls;
  const height = frame.bottom - frame.top;
  pen.rect(x, frame.top, width, height, { fill: colour, alpha: filled ? 1 : 0.2 });
  pen.rect(x, frame.bottom - 3, width, 3, { fill: colour });
  const ink = filled ? '--on-fill' : colour;
  const middle = (frame.top + frame.bottom) / 2;
  if (width > SHAPE_PX + 6) pen.picture(shape(state), x + 5, middle - SHAPE_PX / 2 - 1, SHAPE_PX, ink);
  if (width > SHAPE_PX + 14 + WORD_PX * state.length) pen.text(x + SHAPE_PX + 10, middle + 3, state, { fill: filled ? '--on-fill' : '--ink', bold: filled });
}

/** When it is expected to be ready: a mark over its interval. */
function ahead(pen, frame, { readiness }) {
  const at = readiness?.ready_at;
  if (!at) return;
  const [expected, earliest, latest] = [at.expected, at.earliest, at.latest].map((text) => frame.x(Date.parse(text) / 1000));
  const middle = (frame.top + frame.bottom) / 2;
  pen.rect(earliest, middle - 6, Math.max(2, latest - earliest), 12, { fill: '--ready', alpha: 0.25, stroke: '--ready' });
  pen.picture(shape('ready'), expected - 7, middle - 7, 14, '--ready');
  const words = `ready ${clock(Date.parse(at.expected))}`;
  const after = Math.max(latest, expected + 7) + 5;
  if (after + WORD_PX * words.length < frame.right) pen.text(after, middle + 4, words, { fill: '--ink' });
}

/** Pale, from now on. */
export function future({ nowS, soak }) {
  return (pen, frame) => {
    if (soak.ended) return;
    const x = Math.max(frame.left, frame.x(nowS));
    if (x >= frame.right) return;
    pen.rect(x, frame.top, frame.right - x, frame.bottom - frame.top, { fill: '--hatch', alpha: 0.7 });
    pen.path([[x, frame.top - 8, x, frame.bottom + 8]], { stroke: '--ink', width: 1.6 });
  };
}

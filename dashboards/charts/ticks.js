// The labels along the sides of a chart.
import { clock, clockWithSeconds, day, number } from '../js/words.js';
import { FONT, paint } from './paint.js';

const MINUTE_S = 60;

/** Clock times of ticks given in seconds since 1970; the day stands under the first of each day where several are shown. */
export function clockLabels(splits) {
  const exact = splits.length > 1 && splits[1] - splits[0] < MINUTE_S;
  const days = new Set(splits.map((s) => day(s * 1000)));
  let last = null;
  return splits.map((s) => {
    const text = exact ? clockWithSeconds(s * 1000) : clock(s * 1000);
    const today = day(s * 1000);
    const label = days.size > 1 && today !== last ? `${text}\n${today}` : text;
    last = today;
    return label;
  });
}

/** Numbers with as many decimals as the one among them that needs most. */
export function numberLabels(splits) {
  const decimals = Math.max(0, ...splits.filter((v) => v !== null).map(decimalsOf));
  return splits.map((v) => (v === null ? '' : number(v, decimals)));
}

/** 1 of 2.5. */
function decimalsOf(value) {
  let decimals = 0;
  while (decimals < 7 && Math.abs(value * 10 ** decimals - Math.round(value * 10 ** decimals)) > 1e-6) decimals++;
  return decimals;
}

/** Powers of ten and what lies between, as short as they can be told. */
export function logLabels(splits) {
  return splits.map((v) => (v !== null && isPower(v) ? short(v) : ''));
}

function short(v) {
  return v >= 1000 ? v.toLocaleString('en') : String(Number(v.toPrecision(1)));
}

function isPower(v) {
  const power = Math.log10(v);
  return Math.abs(power - Math.round(power)) < 1e-6;
}

/** 1 to 9 of each power of ten in a range: uPlot's own never end where a range does not begin at a power. */
function logSplits(low, high) {
  const out = [];
  for (let power = Math.floor(Math.log10(low)); 10 ** power <= high; power++) {
    for (let k = 1; k < 10; k++) out.push(Number((k * 10 ** power).toPrecision(6)));
  }
  return out.filter((v) => v >= low && v <= high);
}

/** An axis as uPlot wants it; {@code heard(splits, labels)} is told what is shown, for the SVG. */
export function axis({ side, size, labels, space, show = true, log = false }, heard) {
  const bottom = side === 'bottom';
  return {
    show,
    side: bottom ? 2 : 3,
    size: () => size,
    gap: bottom ? 6 : 7,
    font: FONT,
    space,
    stroke: () => paint('--soft'),
    grid: { stroke: () => paint('--line'), width: 1 },
    ticks: { show: false },
    ...(log && { splits: (u, index, low, high) => logSplits(low, high) }),
    values: (u, splits) => {
      const told = labels(splits);
      heard({ side, splits, told });
      return told;
    },
  };
}

// A soak's rows as columns of numbers, as charts want them.

// A pose lies still where its rates spread no more than this many times as far as they do half of the time.
const STILL_TIMES = 4;

/**
 * Columns of thinned rows: {t, low, mean, high of c, gyro[3], sd, boot}, t in seconds since 1970, null rows where nothing was heard.
 * Rates of seconds in which it was moved are no bias: they are null, and told by sd.
 */
export function columns(bins) {
  const out = { t: [], from: [], boot: [], sd: [], c: extents(), gyro: [extents(), extents(), extents()] };
  const still = stillBelow(bins);
  let before = null;
  for (const bin of bins) {
    const from = Date.parse(bin.time) / 1000;
    const until = Date.parse(bin.until) / 1000;
    if (before !== null && from - before > 2 * (until - from) + 2) push(out, (before + from) / 2, null, false);
    push(out, (from + until) / 2, bin, bin.gyro_sd_dps === null || bin.gyro_sd_dps <= still);
    before = until;
  }
  return out;
}

function extents() {
  return { low: [], mean: [], high: [] };
}

function push(out, t, bin, still) {
  out.t.push(t);
  out.boot.push(bin?.boot ?? null);
  out.sd.push(bin?.gyro_sd_dps ?? null);
  add(out.c, bin?.temperature_c);
  out.gyro.forEach((axis, i) => add(axis, still ? bin?.gyro_dps[i] : null));
}

function add(to, extent) {
  for (const part of ['low', 'mean', 'high']) to[part].push(extent?.[part] ?? null);
}

function stillBelow(bins) {
  const spreads = bins.map((b) => b.gyro_sd_dps).filter((v) => v !== null).sort((a, b) => a - b);
  return spreads.length ? STILL_TIMES * spreads[Math.floor(spreads.length / 2)] : Infinity;
}

/** The last of a column that is known, or null. */
export function newest(column) {
  for (let i = column.length - 1; i >= 0; i--) if (column[i] !== null) return column[i];
  return null;
}

/** The columns as a table for people and files. */
export function asTable({ t, sd, c, gyro }) {
  const rates = ['x', 'y', 'z'].flatMap((axis) => [{ name: `${axis} low`, unit: '°/s' }, { name: axis, unit: '°/s' }, { name: `${axis} high`, unit: '°/s' }]);
  const heads = [{ name: 'time' }, { name: 'temperature low', unit: '°C' }, { name: 'temperature', unit: '°C' }, { name: 'temperature high', unit: '°C' },
    ...rates, { name: 'spread of rates', unit: '°/s' }];
  const rows = t.map((s, i) => [new Date(s * 1000).toISOString(), c.low[i], c.mean[i], c.high[i],
    ...gyro.flatMap((g) => [g.low[i], g.mean[i], g.high[i]]), sd[i]]);
  return { columns: heads, rows: rows.filter((row) => row[2] !== null || row[5] !== null) };
}

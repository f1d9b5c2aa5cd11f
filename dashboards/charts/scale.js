// From values to px, and what range of values a chart shows.

/** A function that turns values between two limits into px between two places. */
export function scale([low, high], from, to, log) {
  if (!log) return (v) => from + (v - low) / (high - low) * (to - from);
  const [a, b] = [Math.log10(low), Math.log10(high)];
  return (v) => from + (Math.log10(v) - a) / (b - a) * (to - from);
}

/** Round limits a little wider than the values; {@code least} is the least span worth showing. */
export function roomy(values, least, share = 0.08) {
  const found = values.filter((v) => typeof v === 'number');
  if (!found.length) return [0, least];
  let low = Infinity;
  let high = -Infinity;
  for (const v of found) {
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  const spare = Math.max((least - (high - low)) / 2, share * (high - low));
  return [low - spare, high + spare];
}

// Round values for the axes of what is drawn without a chart.

/** Round values between two limits, at most so many: 0, 0.01, 0.02. */
export function roundSplits(low, high, most) {
  const raw = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * [1, 2, 5, 10].find((k) => k * power >= raw);
  const out = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) out.push(Number((k * step).toPrecision(10)));
  return out;
}

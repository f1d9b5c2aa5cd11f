// The figures by which lots are compared, as people call them.
import { element } from '../../js/nodes.js';
import { unit as printed } from '../../js/words.js';

const OF_AN_AXIS = {
  tempco: 'coefficient', bias: 'bias', span: 'span', settling: 'settling', residual_sd: 'residual', turn_on: 'turn-on spread',
  angle_random_walk: 'white noise N', bias_instability: 'noise floor B', rate_random_walk: 'slow walk K',
};
const OTHERS = {
  greatest_tempco_dps_per_c: 'coefficient, greatest of three axes', time_constant_s: 'time constant', plateau_c: 'plateau',
  deg_per_min: 'heading error in use', check_deg_per_min: 'left after calibrating', check_deg_per_min_in_use: 'left after calibrating, in use',
};
const NOISE = ['angle_random_walk', 'bias_instability', 'rate_random_walk'];
const GROUPS = [
  ['Bias', (stem, name) => stem in OF_AN_AXIS && !NOISE.includes(stem) || name.startsWith('greatest')],
  ['Noise', (stem) => NOISE.includes(stem)],
  ['Warm-up and use', () => true],
];

/** By what lots are compared where nobody says. */
export const USUAL = 'greatest_tempco_dps_per_c';

/** {stem, axis} of a figure of one axis, as tempco_x_dps_per_c; of another no axis. */
export function partsOf(name) {
  const axis = ['x', 'y', 'z'].find((one) => name.includes(`_${one}_`)) ?? null;
  return { stem: axis ? name.slice(0, name.indexOf(`_${axis}_`)) : name, axis };
}

/** "coefficient of x". */
export function title(name) {
  const { stem, axis } = partsOf(name);
  if (OTHERS[name]) return OTHERS[name];
  return axis ? `${OF_AN_AXIS[stem] ?? stem} of ${axis}` : name;
}

/** Whether it is a figure at a temperature. */
export function atTemperature(name) {
  return name.includes('tempco') || partsOf(name).stem === 'bias';
}

/** The names as options of a select, in groups. */
export function options(names, chosen) {
  const left = new Set(names);
  return GROUPS.map(([label, belongs]) => {
    const mine = [...left].filter((name) => belongs(partsOf(name).stem, name));
    mine.forEach((name) => left.delete(name));
    const group = element('optgroup', '', ...mine.map((name) => new Option(title(name), name, name === chosen, name === chosen)));
    group.label = label;
    return group;
  }).filter((group) => group.children.length);
}

/** As many decimals as tell the usual interval of some estimates with two figures, of one number three figures. */
export function decimalsFor(estimates) {
  const known = estimates.filter((e) => typeof e?.value === 'number');
  const halves = known.map((e) => (e.high - e.low) / 2).filter((h) => h > 0 && Number.isFinite(h)).sort((a, b) => a - b);
  if (halves.length) return places(halves[Math.floor(halves.length / 2)], 1);
  const greatest = Math.max(0, ...known.map((e) => Math.abs(e.value)));
  return greatest > 0 ? places(greatest, 2) : 2;
}

/** As many decimals as show a number's first figure and {@code more} after it. */
export function places(value, more) {
  return Math.min(7, Math.max(0, more - Math.floor(Math.log10(Math.abs(value)))));
}

export { printed };

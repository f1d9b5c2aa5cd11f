// Colours, dashes and markers of charts, as the style sheet has them now: light, dark, or printed.

/** How the axes of a gyro differ: by colour, dash and marker. */
export const AXES = [
  { name: 'x', colour: '--axis-x', dash: [], marker: 'disc' },
  { name: 'y', colour: '--axis-y', dash: [7, 3], marker: 'square' },
  { name: 'z', colour: '--axis-z', dash: [2, 3], marker: 'triangle' },
];

export const FONT = '13px system-ui, "Liberation Sans", sans-serif';

const READ = new Map();

/** The value of a custom property, for example "--ink"; anything else as it is. */
export function paint(name) {
  if (!name?.startsWith('--')) return name;
  if (!READ.has(name)) READ.set(name, getComputedStyle(document.documentElement).getPropertyValue(name).trim());
  return READ.get(name);
}

/** Calls when the colours change: what was drawn must be drawn again. */
export function onRepaint(draw) {
  const again = () => {
    READ.clear();
    draw();
  };
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', again);
  matchMedia('print').addEventListener('change', again);
}

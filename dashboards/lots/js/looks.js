// How lots differ where they are drawn together: by colour, marker and dash.
import { dot } from '../../charts/layers.js';

export const LOOKS = [
  { colour: '--soaking', marker: 'disc', dash: [] },
  { colour: '--hot', marker: 'diamond', dash: [7, 3] },
  { colour: '--ready', marker: 'square', dash: [2, 3] },
  { colour: '--stalled', marker: 'triangle', dash: [12, 3, 2, 3] },
  { colour: '--disturbed', marker: 'disc', hollow: true, dash: [5, 5] },
  { colour: '--undecided', marker: 'diamond', hollow: true, dash: [14, 5] },
  { colour: '--warming', marker: 'square', hollow: true, dash: [1, 3] },
  { colour: '--silent', marker: 'triangle', hollow: true, dash: [9, 3, 2, 3, 2, 3] },
];

/** The style of a lot's marker. */
export function markerStyle({ colour, hollow }) {
  return { fill: hollow ? '--paper' : colour, stroke: colour, width: 1.4 };
}

const ROW_PX = 20;

/** Names of lots at the lower right, where lines that rise have left room, each with a piece of its line and its marker. */
export function key(lots, marked = true) {
  return (pen, frame) => lots.forEach(({ lot }, k) => {
    const y = frame.bottom - 14 - ROW_PX * (lots.length - 1 - k);
    const right = frame.right - 8;
    pen.text(right - 44, y, lot, { fill: LOOKS[k].colour, bold: true, align: 'right' });
    pen.path([[right - 38, y - 4, right, y - 4]], { stroke: LOOKS[k].colour, width: 2, dash: LOOKS[k].dash });
    if (marked) dot(pen, right - 19, y - 4, LOOKS[k].marker, markerStyle(LOOKS[k]), 3.6);
  });
}

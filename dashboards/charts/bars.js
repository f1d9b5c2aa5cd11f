// Rows of bars as a picture to be saved: what the page itself shows as a list.
import { drawn } from '../js/nodes.js';
import { svgPen } from './pens.js';

const [WIDTH, ROW, LEFT, RIGHT] = [900, 28, 190, 460];

/**
 * Rows are {name, limit, interval, value, point, figures, verdict, bad}: limit and point are shares of the bar's width, interval and
 * value pairs of such shares; each is null where there is none.
 */
export function bars(rows) {
  const height = Math.max(1, rows.length) * ROW;
  const svg = drawn('svg', { width: WIDTH, height, viewBox: `0 0 ${WIDTH} ${height}` });
  const pen = svgPen(svg);
  rows.forEach((row, i) => bar(pen, row, i * ROW));
  return svg;
}

function bar(pen, { name, limit, interval, value, point, figures, verdict, bad }, top) {
  const middle = top + ROW / 2;
  const x = (share) => LEFT + Math.min(1, share) * (RIGHT - LEFT);
  const colour = bad ? '--hot' : '--ready';
  const piece = ([from, to], high, alpha) => pen.rect(x(from), middle - high / 2, Math.max(3, x(to) - x(from)), high, { fill: colour, alpha });
  pen.text(8, middle + 4, name, { bold: true });
  pen.path([[LEFT, middle, RIGHT, middle]], { stroke: '--rule' });
  if (interval) piece(interval, 14, 0.35);
  if (value) piece(value, 6, 1);
  if (point !== null) pen.disc(x(point), middle, 4.5, { fill: colour });
  if (limit !== null) pen.path([[x(limit), middle - 9, x(limit), middle + 9]], { stroke: '--ink', width: 2, dash: [4, 3] });
  pen.text(RIGHT + 16, middle + 4, figures, {});
  pen.text(WIDTH - 8, middle + 4, verdict, { fill: colour, bold: true, align: 'right' });
}

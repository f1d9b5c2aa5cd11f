// What can be drawn into a chart: each is a function of a pen and the chart's frame, which turns values into px.

const R = 3.2;

// More points than this are drawn smaller.
const MANY = 60;

/** A line through values; it breaks where one is null. */
export function line(xs, ys, style) {
  return (pen, frame) => pen.path(pieces(xs, ys, frame), style);
}

/** The area between two lines; it breaks where either is null. */
export function band(xs, lows, highs, style) {
  return (pen, frame) => {
    const shapes = [];
    let from = 0;
    for (let i = 0; i <= xs.length; i++) {
      if (i < xs.length && known(lows[i]) && known(highs[i])) continue;
      if (i - from > 1) shapes.push(outline(xs, lows, highs, from, i, frame));
      from = i + 1;
    }
    pen.path(shapes, style, true);
  };
}

function outline(xs, lows, highs, from, to, frame) {
  const out = [];
  for (let i = from; i < to; i++) out.push(frame.x(xs[i]), frame.y(highs[i]));
  for (let i = to - 1; i >= from; i--) out.push(frame.x(xs[i]), frame.y(lows[i]));
  return out;
}

function pieces(xs, ys, frame) {
  const out = [];
  let piece = [];
  for (let i = 0; i < xs.length; i++) {
    if (known(ys[i])) piece.push(frame.x(xs[i]), frame.y(ys[i]));
    else if (piece.length) {
      out.push(piece);
      piece = [];
    }
  }
  if (piece.length) out.push(piece);
  return out;
}

/** Points in the shape of a marker; {@code hollow(i)} says which are only outlined. */
export function points(xs, ys, { marker, colour, hollow = () => false }) {
  return (pen, frame) => {
    for (let i = 0; i < xs.length; i++) {
      if (!known(ys[i])) continue;
      dot(pen, frame.x(xs[i]), frame.y(ys[i]), marker, { stroke: colour, width: 1.3, fill: hollow(i) ? '--paper' : colour }, xs.length > MANY ? 0.72 * R : R);
    }
  };
}

/** One marker. */
export function dot(pen, x, y, marker, style, r = R) {
  if (marker === 'square') pen.rect(x - r + 0.3, y - r + 0.3, 2 * r - 0.6, 2 * r - 0.6, style);
  else if (marker === 'triangle') pen.path([[x, y - r - 0.6, x + r + 0.4, y + r - 0.4, x - r - 0.4, y + r - 0.4]], style, true);
  else if (marker === 'diamond') pen.path([[x, y - r - 1, x + r + 1, y, x, y + r + 1, x - r - 1, y]], style, true);
  else pen.disc(x, y, r, style);
}

/** Upright bars from low to high, as intervals of points. */
export function intervals(xs, lows, highs, style) {
  return (pen, frame) => pen.path(xs.map((x, i) => [frame.x(x), frame.y(lows[i]), frame.x(x), frame.y(highs[i])]), style);
}

/** A level across the whole chart with words at its end. */
export function level(y, words, style) {
  return (pen, frame) => {
    const at = frame.y(y);
    pen.path([[frame.left, at, frame.right, at]], style);
    if (words) pen.text(frame.right - 4, at - 7, words, { fill: style.stroke, align: 'right' });
  };
}

/** An upright line with words beside it. */
export function upright(x, words, style, place = 'bottom') {
  return (pen, frame) => {
    const at = frame.x(x);
    pen.path([[at, frame.top, at, frame.bottom]], style);
    if (!words) return;
    const left = at > frame.right - 90;
    pen.text(at + (left ? -5 : 5), place === 'top' ? frame.top + 13 : frame.bottom - 6, words, { fill: style.stroke, align: left ? 'right' : 'left' });
  };
}

/** A rectangle in values; null sides reach to the chart's edge. */
export function box(x0, x1, y0, y1, style) {
  return (pen, frame) => {
    const left = x0 === null ? frame.left : frame.x(x0);
    const right = x1 === null ? frame.right : frame.x(x1);
    const top = y1 === null ? frame.top : frame.y(y1);
    const bottom = y0 === null ? frame.bottom : frame.y(y0);
    pen.rect(left, top, right - left, bottom - top, style);
  };
}

/** Words at a place in values, moved by some px. */
export function words(x, y, text, style, dx = 0, dy = 0) {
  return (pen, frame) => pen.text(frame.x(x) + dx, frame.y(y) + dy, text, style);
}

function known(value) {
  return typeof value === 'number';
}

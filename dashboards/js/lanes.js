// Lays marks with names and intervals into as few rows as keep them apart.

const LETTER_PX = 9;
// Wide letters weigh more in a short name.
const NAME_SPARE_PX = 10;
const NAME_MOST_PX = 200;
const BESIDE_PX = 12;
const ROWS_MOST = 5;
const DENSE_ROWS_MOST = 8;

/**
 * Marks are {at, from, to, name}, px, with {@code from <= at <= to}. Answers the row of each, how many rows there are, where
 * each name goes ({at, px, before}: before its interval where there is no room behind), and whether names must be left out
 * because there are too many. In the dense form the last row takes whatever is left.
 */
export function lanes(marks, px) {
  const names = marks.map((mark) => namePlace(mark, px));
  const withNames = pack(marks, names, Infinity);
  if (withNames.count <= ROWS_MOST) return { ...withNames, names, dense: false };
  return { ...pack(marks, marks.map(() => null), DENSE_ROWS_MOST), names, dense: true };
}

function namePlace({ at, from, to, name }, px) {
  const wanted = Math.min(NAME_MOST_PX, NAME_SPARE_PX + name.length * LETTER_PX);
  const behind = Math.max(at, to - BESIDE_PX + 6) + BESIDE_PX;
  const roomBefore = Math.min(from - 6, at - BESIDE_PX);
  if (behind + wanted <= px || roomBefore < px - behind) {
    return { at: behind, px: Math.max(0, Math.min(wanted, px - behind)), before: false };
  }
  const width = Math.min(wanted, roomBefore);
  return { at: roomBefore - width, px: width, before: true };
}

function pack(marks, names, most) {
  const ends = [];
  const rows = marks.map((mark, i) => {
    const [start, end] = extent(mark, names[i]);
    const free = ends.findIndex((taken) => taken <= start);
    const row = free >= 0 ? free : Math.min(ends.length, most - 1);
    ends[row] = Math.max(ends[row] ?? -Infinity, end);
    return row;
  });
  return { rows, count: Math.max(2, ends.length) };
}

function extent({ at, from, to }, name) {
  const start = Math.min(from, at - 9, name ? name.at : Infinity);
  const end = Math.max(to, at + 9, name ? name.at + name.px + 8 : -Infinity);
  return [start, end];
}

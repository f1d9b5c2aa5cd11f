// Lays marks with names and intervals into as few rows as keep them apart.

const LETTER_PX = 8.2;
const NAME_MOST_PX = 190;
const ROWS_MOST = 5;
const DENSE_ROWS_MOST = 8;

/**
 * Marks are {at, from, to, name}, px. Answers the row of each, how many rows there are, and whether names had to be left
 * out because there are too many. In the dense form the last row takes whatever is left.
 */
export function lanes(marks, px) {
  const named = pack(marks, (m) => nameEnd(m, px), Infinity);
  if (named.count <= ROWS_MOST) return { ...named, dense: false };
  return { ...pack(marks, (m) => Math.max(m.to, m.at + 8) + 4, DENSE_ROWS_MOST), dense: true };
}

function nameEnd(mark) {
  return Math.max(mark.at, mark.to) + 16 + Math.min(NAME_MOST_PX, mark.name.length * LETTER_PX);
}

function pack(marks, endOf, most) {
  const ends = [];
  const rows = marks.map((mark) => {
    const start = Math.min(mark.from, mark.at - 9);
    const free = ends.findIndex((end) => end <= start);
    const row = free >= 0 ? free : Math.min(ends.length, most - 1);
    ends[row] = Math.max(ends[row] ?? 0, endOf(mark));
    return row;
  });
  return { rows, count: Math.max(2, ends.length) };
}

// The addresses of what the service tells about lots.

/** "lots=A&lots=B": a name may hold a comma. */
export function lotsQuery(lots, others = {}) {
  const query = new URLSearchParams(lots.map((lot) => ['lots', lot]));
  for (const [name, value] of Object.entries(others)) if (value) query.set(name, value);
  return query.toString();
}

/** The page of one lot. */
export function lotPage(lot) {
  return `/lots?lot=${encodeURIComponent(lot)}`;
}

/** The page on which lots are compared. */
export function comparePage(lots, others) {
  return `/lots/compare?${lotsQuery(lots, others)}`;
}

/** The same to be printed. */
export function reportPage(lots, others) {
  return `/lots/report?${lotsQuery(lots, others)}`;
}

/** What an address asks to be compared: {lots, metric, at_c, ratio}. */
export function askedOf(query) {
  const given = query.getAll('lots');
  return { lots: given, metric: query.get('metric') ?? '', at_c: query.get('at_c') ?? '', ratio: query.get('ratio') ?? '' };
}

/** What a lot's own calls begin with. */
export function lotPath(lot) {
  return `/api/lots/${encodeURIComponent(lot)}`;
}

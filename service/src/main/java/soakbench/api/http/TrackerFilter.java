package soakbench.api.http;

import io.javalin.http.Context;

/**
 * A filter of trackers by lot and rack; null does not filter.
 *
 * @param lot only those that the roster puts into this lot
 * @param rack only those that it puts on this rack
 */
public record TrackerFilter(String lot, String rack) {
  public static final String LOT = "lot";
  public static final String RACK = "rack";

  public static TrackerFilter of(Context ctx) {
    return new TrackerFilter(QueryParameters.text(ctx, LOT), QueryParameters.text(ctx, RACK));
  }

  /** Whether a tracker's row passes; null, for a row about none, passes only an empty filter. */
  public boolean hasTracker(String tracker, TrackerNames names) {
    if (tracker == null) {
      return lot == null && rack == null;
    }
    return has(names.lotOf(tracker), names.rackOf(tracker));
  }

  /** Whether a tracker of this lot and rack passes. */
  public boolean has(String itsLot, String itsRack) {
    return (lot == null || lot.equals(itsLot)) && (rack == null || rack.equals(itsRack));
  }
}

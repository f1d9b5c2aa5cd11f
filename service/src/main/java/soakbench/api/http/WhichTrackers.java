package soakbench.api.http;

import io.javalin.http.Context;

/**
 * The trackers that a table is narrowed to; what is null does not narrow.
 *
 * @param lot only those that the roster puts into this lot
 * @param rack only those that it puts on this rack
 */
public record WhichTrackers(String lot, String rack) {
  public static final String LOT = "lot";
  public static final String RACK = "rack";

  public static WhichTrackers of(Context ctx) {
    return new WhichTrackers(Queries.text(ctx, LOT), Queries.text(ctx, RACK));
  }

  /** Whether a tracker's row is in it; null, for a row about none, is only in the whole table. */
  public boolean hasTracker(String tracker, TrackerNames names) {
    if (tracker == null) {
      return lot == null && rack == null;
    }
    return has(names.lotOf(tracker), names.rackOf(tracker));
  }

  /** Whether somebody of this lot and rack is in it. */
  public boolean has(String itsLot, String itsRack) {
    return (lot == null || lot.equals(itsLot)) && (rack == null || rack.equals(itsRack));
  }
}

package soakbench.api.http;

import io.javalin.http.Context;

/**
 * A filter of trackers by lot and rack, and of what is told of them by its time; null does not
 * filter.
 *
 * @param lot only those that the roster puts into this lot
 * @param rack only those that it puts on this rack
 * @param sinceUs only what is of this time or newer, microseconds since 1970
 */
public record TrackerFilter(String lot, String rack, Long sinceUs) {
  public static final String LOT = "lot";
  public static final String RACK = "rack";
  public static final String SINCE = "since";

  public static TrackerFilter of(Context ctx) {
    return new TrackerFilter(
        QueryParameters.text(ctx, LOT),
        QueryParameters.text(ctx, RACK),
        QueryParameters.timeUs(ctx, SINCE));
  }

  /** Whether what is of this time passes. */
  public boolean hasTime(long timeUs) {
    return sinceUs == null || timeUs >= sinceUs;
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

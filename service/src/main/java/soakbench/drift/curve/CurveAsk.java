package soakbench.drift.curve;

/**
 * What is asked of a bias curve.
 *
 * @param useC temperature in use, degC
 * @param order highest power; null for what the span of temperatures bears
 * @param fromC lowest temperature of the bands, degC; null for the covered range's end
 * @param toC highest, degC; null likewise
 * @param points of the bands, at least 2
 * @param again another soak of the same tracker, that may show its settling again; or null
 */
public record CurveAsk(
    double useC, Integer order, Double fromC, Double toC, int points, StillSoak again) {

  /** Highest power that may be asked for. */
  public static final int MOST_ORDER = 6;

  /** Points of a curve where nothing else is asked. */
  public static final int POINTS = 25;

  /** Nothing but the use temperature. */
  public static CurveAsk at(double useC) {
    return new CurveAsk(useC, null, null, null, POINTS, null);
  }
}

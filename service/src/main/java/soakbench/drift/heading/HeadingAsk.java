package soakbench.drift.heading;

/**
 * What is asked of the heading.
 *
 * @param calibratedC temperature of the calibration, degC; NaN where none is known
 * @param useC temperature in use, degC
 * @param profile temperatures in use, or null for {@code useC} throughout
 * @param beyondC so far outside the temperatures seen a rate is still given, as extrapolated, degC
 */
public record HeadingAsk(double calibratedC, double useC, UseProfile profile, double beyondC) {
  private static final double BEYOND_C = 0.5;

  /** The same of temperatures that were seen, or nearly. */
  public HeadingAsk(double calibratedC, double useC, UseProfile profile) {
    this(calibratedC, useC, profile, BEYOND_C);
  }

  /** From one temperature to another. */
  public static HeadingAsk between(double calibratedC, double useC) {
    return new HeadingAsk(calibratedC, useC, null);
  }

  /** From one temperature to another, however far: for those who look at the interval first. */
  public static HeadingAsk extrapolated(double calibratedC, double useC) {
    return new HeadingAsk(calibratedC, useC, null, Double.POSITIVE_INFINITY);
  }
}

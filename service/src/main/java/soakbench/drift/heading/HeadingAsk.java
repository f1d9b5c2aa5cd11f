package soakbench.drift.heading;

/**
 * What is asked of the heading.
 *
 * @param calibratedC temperature of the calibration, degC; NaN where none is known
 * @param useC temperature in use, degC
 * @param profile temperatures in use, or null for {@code useC} throughout
 */
public record HeadingAsk(double calibratedC, double useC, UseProfile profile) {

  /** From one temperature to another. */
  public static HeadingAsk between(double calibratedC, double useC) {
    return new HeadingAsk(calibratedC, useC, null);
  }
}

package soakbench.model;

import java.io.Serializable;

/**
 * What counts as ready. Names, units and defaults are those of the limits file.
 *
 * @param heardWithinS newest sample at most this old, s
 * @param gapLimitS no gap longer than this in the window, s
 * @param stillForS no motion for this long, s
 * @param bandLowC lower end of the operating band, degC
 * @param bandHighC upper end of the operating band, degC
 * @param bandMarginC ready is left at once when outside the band by more than this, degC
 * @param useTemperatureC temperature at which the tracker is worn, degC
 * @param nearUseLimitDegPerMin heading error at the use temperature that still counts as near,
 *     deg/min; null warns only
 * @param temperatureRateLimitCPerMin settled when the rate's interval lies within plus or minus
 *     this, degC/min
 * @param shiftLimitDps settled when every axis' shift lies within plus or minus this, deg/s
 * @param calibrationS how long a calibration takes, s
 * @param dwellS all conditions must hold this long, s
 * @param hotC hot from here on, degC
 * @param riseLimitCPerMin hot when rising faster, degC/min over 60 s
 * @param alpha one-sided error rate of the equivalence tests
 */
public record Limits(
    double heardWithinS,
    double gapLimitS,
    double stillForS,
    double bandLowC,
    double bandHighC,
    double bandMarginC,
    double useTemperatureC,
    Double nearUseLimitDegPerMin,
    double temperatureRateLimitCPerMin,
    double shiftLimitDps,
    double calibrationS,
    double dwellS,
    double hotC,
    double riseLimitCPerMin,
    double alpha)
    implements Serializable {

  /** The defaults that the methods page lists. */
  public static final Limits DEFAULT =
      new Limits(10, 5, 60, 28, 34, 0.15, 31, null, 0.10, 0.010, 180, 60, 45, 5, 0.05);
}

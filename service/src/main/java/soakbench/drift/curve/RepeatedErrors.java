package soakbench.drift.curve;

/**
 * The part of a bias curve's errors that is the same in every soak of a unit, so that no number of
 * soaks averages it away: the unit has one thermal lag, and one value of the power of the
 * temperature that the curve leaves out. Both are known to the fit by what is believed of them
 * alone; each array says what one standard deviation of that belief does to the coefficients. The
 * covariance of the coefficients holds both.
 *
 * @param lag of the thermal lag, one entry for each coefficient, deg/s per degC^k; all zero where
 *     the soak shows the lag
 * @param powerLeftOut of the power left out, likewise
 */
public record RepeatedErrors(double[] lag, double[] powerLeftOut) {}

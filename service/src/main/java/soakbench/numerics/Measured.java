package soakbench.numerics;

/**
 * A value and its standard error: inside the analyses the one way to say how well a number is
 * known. What goes out to people is a {@code model.Estimate}.
 *
 * @param value best value, in its own unit; the mean where it is a posterior's
 * @param se standard error in the same unit; the standard deviation where it is a posterior's
 */
public record Measured(double value, double se) {

  /** Value and error from the variance; rounding may have left that a little below nothing. */
  public static Measured ofVariance(double value, double variance) {
    return new Measured(value, Math.sqrt(Math.max(0, variance)));
  }
}

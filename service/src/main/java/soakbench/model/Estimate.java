package soakbench.model;

import java.io.Serializable;

/**
 * A figure with its uncertainty, or the reason why there is none.
 *
 * @param value the figure, or null
 * @param se its standard error, or null where only the interval is known
 * @param low lower 95 % limit, or null
 * @param high upper 95 % limit, or null
 * @param reason why there is no figure; null where there is one
 */
public record Estimate(Double value, Double se, Double low, Double high, String reason)
    implements Serializable {

  /**
   * A figure with its standard error and symmetric 95 % limits at {@code quantile} standard errors.
   */
  public static Estimate of(double value, double se, double quantile) {
    return new Estimate(value, se, value - quantile * se, value + quantile * se, null);
  }

  /** A figure whose interval is not symmetric. */
  public static Estimate of(double value, double se, double low, double high) {
    return new Estimate(value, se, low, high, null);
  }

  /** No figure, and why. */
  public static Estimate unknown(String reason) {
    return new Estimate(null, null, null, null, reason);
  }

  public boolean known() {
    return value != null;
  }
}

package soakbench.lots.compare;

/**
 * What a unit's figure may be.
 *
 * @param low least that is allowed; null for no lower limit
 * @param high greatest that is allowed; null for no upper limit
 */
public record MetricLimit(Double low, Double high) {
  boolean isOutside(double value) {
    return low != null && value < low || high != null && value > high;
  }
}

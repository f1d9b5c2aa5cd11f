package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import soakbench.model.Estimate;

/**
 * What one soak says of a quantity of its unit, its error parted by what another soak repeats.
 *
 * @param value what it says
 * @param ownVariance of what is this soak's alone
 * @param limitsSe half a 95 % interval in standard errors
 * @param repeated what other soaks of the unit repeat
 */
record Part(double value, double ownVariance, double limitsSe, List<Repeated> repeated) {
  /** No soak is without errors of its own, however well what it repeats explains them. */
  private static final double LEAST_OWN_SHARE = 0.01;

  /**
   * An error of which one and the same deviation is in all soaks of the unit.
   *
   * @param cause of the deviation; the same in two soaks where it is the same error
   * @param sd what one standard deviation of the cause does to this soak's value; signed
   */
  record Repeated(String cause, double sd) {}

  /**
   * A value whose variance is known as a whole.
   *
   * @param variance what is repeated included
   */
  static Part of(double value, double variance, double limitsSe, List<Repeated> repeated) {
    double rest = variance - squares(repeated);
    return new Part(value, Math.max(LEAST_OWN_SHARE * variance, rest), limitsSe, repeated);
  }

  /** One that no other soak repeats anything of; known, with a standard error above 0. */
  static Part of(Estimate e) {
    double limitsSe = (e.high() - e.low()) / (2 * e.se());
    return new Part(e.value(), e.se() * e.se(), limitsSe, List.of());
  }

  double variance() {
    return ownVariance + squares(repeated);
  }

  private static double squares(List<Repeated> repeated) {
    return repeated.stream().mapToDouble(r -> r.sd * r.sd).sum();
  }

  Estimate estimate() {
    return Estimate.of(value, Math.sqrt(variance()), limitsSe);
  }

  /** This soak's minus another's: what both repeat in the same way drops out. */
  Part minus(Part other) {
    List<Repeated> left = new ArrayList<>();
    causes(List.of(this, other))
        .forEach((cause, sds) -> left.add(new Repeated(cause, sds[0] - sds[1])));
    return new Part(
        value - other.value,
        ownVariance + other.ownVariance,
        Math.max(limitsSe, other.limitsSe),
        left);
  }

  /** By cause, what one standard deviation of it does to each part. */
  static Map<String, double[]> causes(List<Part> parts) {
    Map<String, double[]> out = new TreeMap<>();
    for (int i = 0; i < parts.size(); i++) {
      for (Repeated r : parts.get(i).repeated) {
        out.computeIfAbsent(r.cause, c -> new double[parts.size()])[i] += r.sd;
      }
    }
    return out;
  }
}

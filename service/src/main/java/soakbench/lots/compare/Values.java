package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Estimate;

/**
 * One figure of those units of a lot of which it is known.
 *
 * @param units the units, by id
 * @param estimates the figure of each, known
 * @param missing why the first of the others has none; null where all have one
 */
record Values(List<LotUnit> units, List<Estimate> estimates, String missing) {
  private static final double NORMAL_95 = 1.959964;

  static Values of(Metric metric, Lot lot) {
    List<LotUnit> units = new ArrayList<>();
    List<Estimate> estimates = new ArrayList<>();
    String missing = null;
    for (LotUnit unit : lot.units()) {
      Estimate e = metric.of().apply(unit);
      if (e.known()) {
        units.add(unit);
        estimates.add(e);
      } else if (missing == null) {
        missing = e.reason();
      }
    }
    return new Values(List.copyOf(units), List.copyOf(estimates), missing);
  }

  int count() {
    return estimates.size();
  }

  /** The figures, by unit. */
  double[] figures() {
    return estimates.stream().mapToDouble(Estimate::value).toArray();
  }

  /** The figures without their signs, by unit. */
  double[] magnitudes() {
    return estimates.stream().mapToDouble(e -> Math.abs(e.value())).toArray();
  }

  /** Their standard errors; NaN where one has none. */
  double[] errors() {
    return estimates.stream().mapToDouble(Values::error).toArray();
  }

  /** The standard error of a figure, else a quarter of its 95 % interval, nearly; NaN without. */
  static double error(Estimate e) {
    if (e.se() != null) {
      return e.se();
    }
    return e.low() == null || e.high() == null
        ? Double.NaN
        : (e.high() - e.low()) / (2 * NORMAL_95);
  }
}

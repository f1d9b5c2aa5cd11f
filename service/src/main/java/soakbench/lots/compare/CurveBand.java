package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/**
 * Between what limits the bias curves of a lot's units lie, 95 % of all its units with 95 %
 * confidence at each temperature: normal limits, as differences of a bias have either sign.
 *
 * @param lowDps lower limit at each temperature, deg/s; null where too few units covered it
 * @param highDps upper limit
 * @param reason why there is no limit anywhere; null where there is one
 */
public record CurveBand(List<Double> lowDps, List<Double> highDps, String reason) {

  /**
   * The band of some curves.
   *
   * @param curves of each unit, deg/s, as many entries each; null where not known
   * @param count how many entries
   */
  public static CurveBand of(List<List<Double>> curves, int count) {
    List<Double> low = new ArrayList<>();
    List<Double> high = new ArrayList<>();
    double[] most = {};
    for (int i = 0; i < count; i++) {
      double[] known = known(curves, i);
      Tolerance at = Tolerance.of(Metric.Kind.SIGNED, known);
      low.add(at.low());
      high.add(at.high());
      most = known.length > most.length ? known : most;
    }
    return new CurveBand(low, high, Tolerance.of(Metric.Kind.SIGNED, most).reason());
  }

  private static double[] known(List<List<Double>> curves, int i) {
    return curves.stream()
        .map(curve -> curve.get(i))
        .filter(Objects::nonNull)
        .mapToDouble(Double::doubleValue)
        .toArray();
  }
}

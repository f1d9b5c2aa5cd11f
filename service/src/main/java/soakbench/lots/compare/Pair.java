package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import soakbench.lots.statistics.PairTest;
import soakbench.model.Estimate;

/**
 * Two of the lots.
 *
 * @param a name of the first
 * @param b name of the second
 * @param difference mean of b less mean of a, in the figure's unit; limits hold for all pairs
 * @param ratio median magnitude of b by that of a; limits hold for all pairs
 * @param p of the difference, for all pairs of this figure at once (Games-Howell); null without
 * @param pAlone of the difference, of this pair alone; null without
 * @param adjustedP of the difference, for all pairs, axes and figures looked at together (Holm);
 *     null without
 */
public record Pair(
    String a,
    String b,
    Estimate difference,
    Estimate ratio,
    Double p,
    Double pAlone,
    Double adjustedP) {

  /** All pairs, in the order of the lots. */
  static List<Pair> of(Map<String, double[]> lots, Map<String, Sizes> sizes) {
    List<String> names = List.copyOf(lots.keySet());
    List<Pair> pairs = new ArrayList<>();
    double alpha = 0.05 / Math.max(1, names.size() * (names.size() - 1) / 2);
    for (int i = 0; i < names.size(); i++) {
      for (int j = i + 1; j < names.size(); j++) {
        String a = names.get(i);
        String b = names.get(j);
        Estimate ratio = sizes.get(a).ratio(sizes.get(b), alpha);
        pairs.add(of(a, b, lots, ratio));
      }
    }
    return pairs;
  }

  private static Pair of(String a, String b, Map<String, double[]> lots, Estimate ratio) {
    String reason = Level.reason(two(a, b, lots));
    if (reason != null) {
      return new Pair(a, b, Estimate.unknown(reason), ratio, null, null, null);
    }
    PairTest test = PairTest.of(lots.get(a), lots.get(b), lots.size());
    double alone = Level.p(lots.get(a), lots.get(b));
    return new Pair(
        a, b, test.difference(), ratio, lots.size() == 2 ? alone : test.p(), alone, null);
  }

  static Map<String, double[]> two(String a, String b, Map<String, double[]> lots) {
    Map<String, double[]> two = new java.util.LinkedHashMap<>();
    two.put(a, lots.get(a));
    two.put(b, lots.get(b));
    return two;
  }

  Pair adjusted(double adjusted) {
    return new Pair(a, b, difference, ratio, p, pAlone, adjusted);
  }
}

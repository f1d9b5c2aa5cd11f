package soakbench.lots.compare;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import soakbench.lots.statistics.MedianRatio;
import soakbench.model.Estimate;

/**
 * The two lots that differ most: of two lots the first and the second, of more the one with the
 * least median size and the one with the greatest.
 *
 * @param a the first; null where there is one lot only
 * @param b the second
 * @param pair the two compared; null where there is one lot only
 * @param first figures of a
 * @param second figures of b
 * @param medians what the precision of their ratio rests on; null where not known
 */
record Extremes(
    String a, String b, Pair pair, double[] first, double[] second, MedianRatio medians) {

  static Extremes of(Map<String, double[]> figures, Map<String, Sizes> sizes, List<Pair> pairs) {
    List<String> order = List.copyOf(figures.keySet());
    if (order.size() < 2) {
      return new Extremes(null, null, null, null, null, null);
    }
    List<String> bySize =
        order.stream()
            .filter(lot -> !Double.isNaN(sizes.get(lot).median()))
            .sorted(Comparator.comparingDouble(lot -> sizes.get(lot).median()))
            .toList();
    boolean ends = order.size() > 2 && bySize.size() > 1;
    String one = ends ? bySize.get(0) : order.get(0);
    String other = ends ? bySize.get(bySize.size() - 1) : order.get(1);
    Pair pair =
        pairs.stream()
            .filter(
                p ->
                    p.a().equals(one) && p.b().equals(other)
                        || p.a().equals(other) && p.b().equals(one))
            .findFirst()
            .orElseThrow();
    return new Extremes(
        pair.a(),
        pair.b(),
        pair,
        figures.get(pair.a()),
        figures.get(pair.b()),
        sizes.get(pair.a()).by(sizes.get(pair.b()), 0.05));
  }

  /** Median size of b by that of a. */
  Estimate ratio() {
    return pair == null
        ? Estimate.unknown("one lot alone: there is nothing to compare it with")
        : pair.ratio();
  }

  Detectable detectable(Detectable.Wanted wanted) {
    return pair == null
        ? Detectable.of(null, null, ratio(), null, wanted)
        : Detectable.of(first, second, pair.difference(), medians, wanted);
  }
}

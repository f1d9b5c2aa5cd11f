package soakbench.lots.statistics;

import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Probabilities of several tests that are looked at together (S. Holm, 1979, "A simple sequentially
 * rejective multiple test procedure", Scand. J. Statist. 6, 65 to 70).
 */
public final class Holm {
  private Holm() {}

  /**
   * The adjusted probabilities: where all differences are chance, one of them falls below a level
   * no more often than that level says.
   *
   * @param p of each test, 0 to 1, in any order, no NaN
   * @return as many, in the same order, each at most 1
   */
  public static double[] adjusted(double[] p) {
    int[] order =
        IntStream.range(0, p.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> p[i]))
            .mapToInt(Integer::intValue)
            .toArray();
    double[] adjusted = new double[p.length];
    double most = 0;
    for (int rank = 0; rank < order.length; rank++) {
      most = Math.max(most, Math.min(1, (p.length - rank) * p[order[rank]]));
      adjusted[order[rank]] = most;
    }
    return adjusted;
  }
}

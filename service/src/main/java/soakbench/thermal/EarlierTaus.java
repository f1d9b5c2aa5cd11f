package soakbench.thermal;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.model.TauPrior;

/**
 * What the time constants of earlier soaks say of the next one: median and spread of their
 * logarithms. Robust: the median, and the median absolute deviation times 1.4826 (Hampel, J. Am.
 * Stat. Assoc. 69, 1974), so that one soak with a window open does not widen it.
 */
public final class EarlierTaus {
  /** Newest soaks that count. */
  public static final int MOST = 20;

  /** Fewer than this say nothing. */
  static final int LEAST = 3;

  /**
   * Few soaks may agree by chance, and the next one may lie in another corner of the rack. The
   * smallest of 0.03, 0.1, 0.15, 0.2, 0.3 at which no mix of simulated racks (trackers scattered by
   * 5 and by 10 %) covered the true time less often than without a prior.
   */
  static final double LEAST_LOG_SD = 0.10;

  /**
   * A constant known worse than this rests on what is believed of any body (0.6), not on its soak.
   */
  private static final double WORST_LOG_SE = 0.2;

  private static final double MAD_TO_SD = 1.4826;

  private EarlierTaus() {}

  /** Whether a soak showed this constant itself. */
  public static boolean own(Estimate tauS) {
    return tauS.known() && tauS.low() > 0 && logSe(tauS) <= WORST_LOG_SE;
  }

  private static double logSe(Estimate tauS) {
    return Math.log(tauS.high() / tauS.low()) / (2 * 1.96);
  }

  /**
   * The prior.
   *
   * @param tausS time constants of ended soaks, newest first; those that are not their soaks' own
   *     are passed over
   * @return empty where fewer than three are left
   */
  public static Optional<TauPrior> prior(List<Estimate> tausS) {
    double[] logs =
        tausS.stream()
            .filter(EarlierTaus::own)
            .limit(MOST)
            .mapToDouble(e -> Math.log(e.value()))
            .toArray();
    if (logs.length < LEAST) {
      return Optional.empty();
    }
    double middle = median(logs);
    double mad = median(Arrays.stream(logs).map(v -> Math.abs(v - middle)).toArray());
    // One more from the same rack strays by its own scatter and by the median's error.
    double sd = MAD_TO_SD * mad * Math.sqrt(1 + 1.0 / logs.length);
    double logSd = Math.max(LEAST_LOG_SD, sd);
    return Optional.of(new TauPrior(Math.exp(middle), Math.exp(logSd), logs.length));
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  }
}

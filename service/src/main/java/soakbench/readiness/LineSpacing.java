package soakbench.readiness;

import java.io.Serializable;
import java.util.Arrays;

/**
 * How far apart a tracker's lines usually come, for telling silence: of one that always sends but
 * once in ten seconds, each pause would else be a silence. A quick stream keeps the limit as it is,
 * whatever drops out of it now and then. Not thread-safe.
 */
public final class LineSpacing implements Serializable {
  /** Nothing that comes as often as this is slow, s. */
  private static final double SLOW_S = 3;

  /** Of the newest minutes so much counts for what is usual, s. */
  private static final double MEMORY_S = 300;

  private static final int KEPT = 8;

  /** Fewer pauses are not usual. */
  private static final int LEAST_PAUSES = 3;

  /** So many of its usual longest pauses are silence. */
  private static final double PAUSES = 2;

  /** A silence is told after this at the latest, s. */
  private static final double LONGEST_S = 300;

  private final double[] longS = new double[KEPT];
  private int pauses;
  private double allS;
  private double slowS;

  /**
   * Takes what was heard next.
   *
   * @param sinceS time since the same was taken last, s
   * @param pauseS of that, time in which nothing was heard, s
   */
  public void heard(double sinceS, double pauseS) {
    if (!(sinceS > 0)) {
      return;
    }
    double keep = Math.exp(-sinceS / MEMORY_S);
    allS = keep * allS + sinceS;
    slowS = keep * slowS;
    if (pauseS > SLOW_S) {
      slowS += pauseS;
      longS[pauses++ % KEPT] = pauseS;
    }
  }

  /** For how long nothing must be heard to call it silent, s, where a quick stream has a limit. */
  public double silentAfterS(double limitS) {
    if (pauses < LEAST_PAUSES || slowS < allS / 2) {
      return limitS;
    }
    double[] sorted = Arrays.copyOf(longS, Math.min(pauses, KEPT));
    Arrays.sort(sorted);
    // The longest may have been a silence.
    double usual = PAUSES * sorted[sorted.length - 2];
    return Math.max(limitS, Math.min(LONGEST_S, usual));
  }
}

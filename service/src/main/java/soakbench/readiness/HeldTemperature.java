package soakbench.readiness;

import java.io.Serializable;
import java.util.Arrays;
import soakbench.model.Spans;

/**
 * How long ago the temperature was measured, and whether that is too long to go by it. A
 * thermometer that is read too seldom is lost for good, and not found and lost again with each
 * reading: after a loss the usual time between readings has to be short again. Not thread-safe.
 */
final class HeldTemperature implements Serializable {
  /** The 30 s for which a temperature is held, and one for the seconds' rounding. */
  private static final double HELD_S = 31;

  /** Spacings of which the median counts: three short ones end a loss. */
  private static final int SPACINGS = 5;

  private final double[] spacingS = new double[SPACINGS];
  private int count;
  private double measuredS = Double.NEGATIVE_INFINITY;
  private boolean found = true;

  /** A temperature was measured; times are seconds since the soak began, ascending. */
  void measured(double tS) {
    if (measuredS > Double.NEGATIVE_INFINITY) {
      found &= tS - measuredS <= HELD_S;
      spacingS[count++ % SPACINGS] = tS - measuredS;
    }
    measuredS = tS;
    found |= everyS() <= HELD_S;
  }

  /** Whether there is none to go by. */
  boolean lost(double tS) {
    return !found || old(tS);
  }

  /** Whether the newest is too old to go by, however often they come. */
  boolean old(double tS) {
    return tS - measuredS > HELD_S;
  }

  /** How long ago it was measured, s; infinite where it never was. */
  double agoS(double tS) {
    return tS - measuredS;
  }

  /** Usual time between readings, s; 0 for none. */
  double everyS() {
    int n = Math.min(count, SPACINGS);
    double[] sorted = Arrays.copyOf(spacingS, n);
    Arrays.sort(sorted);
    return n == 0 ? 0 : sorted[n / 2];
  }

  /** Why there is none to go by. */
  String reason(double tS) {
    return everyS() > HELD_S
        ? "its temperature comes only every "
            + Spans.inLargest(everyS())
            + "; one every 30 s or sooner is needed"
        : "no temperature for " + Spans.inMinutes(agoS(tS));
  }
}

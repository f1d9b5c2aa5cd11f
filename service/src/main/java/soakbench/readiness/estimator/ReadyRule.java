package soakbench.readiness.estimator;

import java.io.Serializable;
import soakbench.model.Limits;

/**
 * Whether a tracker stands as ready: entered when all conditions have held for the dwell, left at
 * once for motion and the band, else when what was shown is no longer likely. Not thread-safe.
 */
final class ReadyRule implements Serializable {
  /** A lid over a gentle axis is not seen for so long through a coarse thermometer, s. */
  private static final double COARSE_DWELL_S = 120;

  private static final double LASTING_S = 20;

  /** After a surprise the first block that says so is believed, s. */
  private static final double ALERT_S = 30;

  private static final double LIKELY = 0.5;
  private static final double FAR_RATE = 1.5;

  private final Limits limits;
  private double settledSinceS = Double.NaN;
  private double badSinceS = Double.NaN;
  private double overBefore = Double.NaN;
  private double overAtS = Double.NaN;
  private boolean ready;

  ReadyRule(Limits limits) {
    this.limits = limits;
  }

  boolean ready() {
    return ready;
  }

  double neededS(boolean coarse) {
    return coarse ? Math.max(limits.dwellS(), COARSE_DWELL_S) : limits.dwellS();
  }

  double dwellS(double nowS) {
    return Double.isNaN(settledSinceS) ? 0 : nowS - settledSinceS;
  }

  /**
   * Takes what a block showed.
   *
   * @param nowS its end
   * @param over by how much the worst of band, rate and shift is over its limit in the block's
   *     middle, as a part of it; not positive where all hold
   */
  void block(double nowS, double over, Outlook outlook, boolean surprised) {
    double middleS = nowS - Blocks.BLOCK_S / 2;
    if (over > 0) {
      settledSinceS = Double.NaN;
    } else if (Double.isNaN(settledSinceS)) {
      boolean falls = overBefore > 0 && middleS - overAtS <= 1.5 * Blocks.BLOCK_S;
      // Between two blocks the most that is over its limit falls nearly straight.
      double back = falls ? over / (over - overBefore) * (middleS - overAtS) : 0;
      settledSinceS = middleS - back;
    }
    overBefore = over;
    overAtS = middleS;
    if (!ready || !gone(outlook)) {
      badSinceS = Double.NaN;
      return;
    }
    badSinceS = Double.isNaN(badSinceS) ? nowS : badSinceS;
    if (surprised || nowS - badSinceS >= LASTING_S) {
      ready = false;
    }
  }

  static boolean alert(double nowS, double surprisedS) {
    return nowS - surprisedS <= ALERT_S;
  }

  private boolean gone(Outlook o) {
    double rate = limits.temperatureRateLimitCPerMin() / 60;
    return o.outside(limits.shiftLimitDps()) > LIKELY
        || o.rateCPerS().outside(FAR_RATE * rate) > LIKELY;
  }

  /** Takes a second: whether it lay still for long enough, is heard, and in the band. */
  void second(double nowS, boolean still, boolean heard, double temperatureC, boolean coarse) {
    boolean in =
        temperatureC >= limits.bandLowC() - limits.bandMarginC()
            && temperatureC <= limits.bandHighC() + limits.bandMarginC();
    if (!in) {
      settledSinceS = Double.NaN;
    }
    if (ready) {
      ready = still && in;
    } else {
      ready = still && heard && in && dwellS(nowS) >= neededS(coarse);
    }
  }

  /** Nothing was heard for long, or something else forbids it. */
  void bar() {
    settledSinceS = Double.NaN;
    ready = false;
  }
}

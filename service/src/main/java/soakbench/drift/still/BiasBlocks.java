package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Gathers a soak's still seconds into blocks of 30 s, each within one pose and one boot. One second
 * before and two after motion are left out, because motion starts and ends within a second. Also
 * keeps the mean square of differences between neighbouring seconds, from which the white noise is
 * read. The one reading of a stream that sends one in two seconds stands for both. Not thread-safe.
 */
public final class BiasBlocks implements Serializable {
  /** Length of a block, s. */
  public static final int BLOCK_S = 30;

  private static final int LEAST_SECONDS = 20;
  private static final int GUARD_AFTER_S = 2;

  private final List<BiasBlock> blocks = new ArrayList<>();
  private final double[] squaredSteps = new double[3];
  private final double[] sumBias = new double[3];
  private double sumT;
  private double sumC;
  private int seconds;
  private int bins;
  private double openBlock = Double.NaN;
  private int segment;
  private int boot;
  private int guard;
  private long steps;
  private Second held;
  private Second before;
  private double lastTemperatureC = Double.NaN;

  private record Second(double tS, double temperatureC, double[] biasDps, int readings)
      implements Serializable {
    /** For how many seconds it stands after another; 0 where it is none of its neighbours. */
    int standsFor(Second before) {
      double apartS = before == null ? Double.NaN : tS - before.tS;
      boolean alone = before != null && readings == 1 && before.readings == 1;
      return apartS < 1.5 ? 1 : alone && apartS < 2.5 ? 2 : 0;
    }
  }

  /**
   * Takes the next second.
   *
   * @param tS middle of the second, s since the soak began
   */
  public void accept(Bin bin, double tS, Stillness.Answer answer) {
    Channel c = bin.temperatureC();
    if (c.count() > 0) {
      lastTemperatureC = c.mean();
    }
    if (bin.boot() != boot) {
      boot = bin.boot();
      newSegment();
    }
    switch (answer) {
      case MOVED -> moved();
      case NEW_LEVEL -> newSegment();
      case STILL -> still(new Second(tS, lastTemperatureC, bin.biasDps(), bin.rateCount()));
      case TOO_SLOW, NO_RATES -> before = null;
    }
  }

  private void moved() {
    if (guard == 0) {
      newSegment();
    }
    held = null;
    before = null;
    guard = GUARD_AFTER_S;
  }

  private void newSegment() {
    closeBlock();
    held = null;
    before = null;
    segment++;
  }

  private void still(Second second) {
    if (guard > 0) {
      guard--;
      return;
    }
    if (held != null) {
      take(held);
    }
    held = second;
  }

  private void take(Second s) {
    if (Double.isNaN(s.temperatureC)) {
      return;
    }
    int standsFor = s.standsFor(before);
    if (standsFor > 0) {
      for (int i = 0; i < 3; i++) {
        double d = s.biasDps[i] - before.biasDps[i];
        squaredSteps[i] += standsFor * d * d;
      }
      steps++;
    }
    before = s;
    double block = Math.floor(s.tS / BLOCK_S);
    if (block != openBlock) {
      closeBlock();
      openBlock = block;
    }
    seconds += Math.max(1, standsFor);
    bins++;
    sumT += s.tS;
    sumC += s.temperatureC;
    for (int i = 0; i < 3; i++) {
      sumBias[i] += s.biasDps[i];
    }
  }

  private void closeBlock() {
    if (seconds >= LEAST_SECONDS) {
      double[] mean = {sumBias[0] / bins, sumBias[1] / bins, sumBias[2] / bins};
      blocks.add(new BiasBlock(sumT / bins, seconds, sumC / bins, mean, segment));
    }
    seconds = 0;
    bins = 0;
    sumT = 0;
    sumC = 0;
    java.util.Arrays.fill(sumBias, 0);
  }

  /** Closed blocks, by time. */
  public List<BiasBlock> blocks() {
    return blocks;
  }

  /**
   * Allan deviation at 1 s of the still seconds, deg/s, x y z: N where the noise is white; NaN
   * before ten pairs. Of readings two seconds apart it is what white noise would have at 1 s.
   */
  public double[] whiteNoiseDps() {
    double[] n = new double[3];
    for (int i = 0; i < 3; i++) {
      n[i] = steps < 10 ? Double.NaN : Math.sqrt(squaredSteps[i] / (2.0 * steps));
    }
    return n;
  }

  public int segment() {
    return segment;
  }
}

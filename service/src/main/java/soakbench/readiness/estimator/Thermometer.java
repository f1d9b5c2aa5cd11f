package soakbench.readiness.estimator;

import java.io.Serializable;
import soakbench.model.Bin.Channel;

/**
 * Turns the readings of a block into what they say of the temperature, as fine or as coarse as the
 * thermometer is. Its step is the smallest difference seen. Not thread-safe.
 */
final class Thermometer implements Serializable {
  /** From this step on the rates are the finer thermometer, degC. */
  static final double COARSE_C = 0.2;

  /** What no model of a body is better than, degC. */
  private static final double LEAST_SD_C = 0.002;

  /** With less noise than this, in steps, a block on two steps lies at the edge between them. */
  private static final double SHARP = 0.2;

  /** Of an undithered step: how sharp its edges are, in steps. */
  private static final double EDGE = 0.04;

  /** How far from the middle of an edge a block lies that shows both its steps, in steps. */
  private static final double AT_EDGE = 0.12;

  /** So many seconds that read anew are remembered. */
  private static final double FRESH_MEMORY = 30;

  private static final double LEAST_STEP_C = 1e-4;

  private double stepC = Double.POSITIVE_INFINITY;
  private double anchorC = Double.NaN;
  private double noiseC = Double.NaN;
  private int blocks;
  private int mixedBlocks;

  /** The newest seconds that read anew, and the variance that such a one has, degC^2. */
  private final double[] fresh = {Double.NaN, Double.NaN, Double.NaN};

  private double freshVariance = Double.NaN;
  private int freshSeconds;

  private int seconds;
  private long count;
  private double sum;
  private double low;
  private double high;
  private double pooled;
  private long freedom;

  /** Takes a second of the open block. */
  void accept(Channel c, double seenStepC) {
    double moved = Math.abs(c.mean() - anchorC);
    boolean pure = c.sd() == 0 || Double.isNaN(c.sd());
    if (seenStepC > LEAST_STEP_C) {
      stepC = Math.min(stepC, seenStepC);
    }
    if (pure && moved > LEAST_STEP_C) {
      stepC = Math.min(stepC, moved);
    }
    if (pure) {
      anchorC = c.mean();
    }
    // What is read less often than it is printed repeats itself, and says nothing again.
    if (!pure || c.mean() != fresh[2]) {
      readAnew(c.mean());
    }
    low = seconds == 0 ? c.mean() : Math.min(low, c.mean());
    high = seconds == 0 ? c.mean() : Math.max(high, c.mean());
    seconds++;
    count += c.count();
    sum += c.count() * c.mean();
    if (c.count() > 1) {
      pooled += (c.count() - 1) * c.sd() * c.sd();
      freedom += c.count() - 1;
    }
  }

  private void readAnew(double meanC) {
    freshSeconds++;
    fresh[0] = fresh[1];
    fresh[1] = fresh[2];
    fresh[2] = meanC;
    double bend = fresh[0] - 2 * fresh[1] + fresh[2];
    if (!Double.isNaN(bend)) {
      double variance = bend * bend / 6;
      freshVariance =
          Double.isNaN(freshVariance)
              ? variance
              : freshVariance + (variance - freshVariance) / FRESH_MEMORY;
    }
  }

  boolean empty() {
    return seconds == 0;
  }

  /** The block's mean, degC. */
  double meanC() {
    return sum / count;
  }

  /** The step where it hides more than the rates do, as far as is known. */
  boolean coarse() {
    return stepC >= COARSE_C && stepC < Double.POSITIVE_INFINITY && blocks > 0 && !dithered();
  }

  double stepC() {
    return stepC;
  }

  private boolean dithered() {
    return mixedBlocks > 0.8 * blocks;
  }

  /** Closes the block. */
  Reading close() {
    double spread = pooled + spreadOfSeconds();
    boolean pure = high - low < LEAST_STEP_C && pooled < 1e-12;
    double sd = freedom > 0 ? Math.sqrt(pooled / freedom) : Math.sqrt(spread / seconds);
    noiseC = Double.isNaN(noiseC) ? sd : noiseC + (sd - noiseC) / 30;
    blocks++;
    mixedBlocks += pure ? 0 : 1;
    Reading out = read(pure);
    seconds = 0;
    freshSeconds = 0;
    count = 0;
    sum = 0;
    pooled = 0;
    freedom = 0;
    return out;
  }

  private double spreadOfSeconds() {
    double width = high - low;
    return width * width / 12 * seconds;
  }

  private Reading read(boolean pure) {
    double mean = meanC();
    boolean stepped = stepC < Double.POSITIVE_INFINITY && !Double.isNaN(anchorC);
    double anew = Double.isNaN(freshVariance) ? 0 : freshVariance;
    if (pure && stepped && anew > stepC * stepC) {
      return Reading.about(mean, Math.sqrt(anew));
    }
    if (pure && stepped) {
      return new Reading(mean - stepC / 2, mean + stepC / 2, EDGE * stepC);
    }
    if (pure) {
      // Not known yet how coarse it is: no better than the coarsest, half a degree in common use.
      return Reading.about(mean, 0.15);
    }
    if (stepped && twoLevels()) {
      double lower = anchorC + Math.floor((mean - anchorC) / stepC) * stepC;
      double edge = lower + stepC / 2;
      double middle = edge + 0.25 * (mean - edge);
      // Bounds, and no value with noise: blocks on one edge all err to the same side.
      return new Reading(middle - AT_EDGE * stepC, middle + AT_EDGE * stepC, EDGE * stepC);
    }
    double step = stepped ? stepC : 0;
    double one = Math.max(noiseC, step / Math.sqrt(12));
    double hidden = stepped ? sawTooth() * stepC / Math.sqrt(2) : 0;
    double noise = Math.max(one * one / count, anew / Math.max(1, freshSeconds));
    return Reading.about(mean, Math.sqrt(noise + LEAST_SD_C * LEAST_SD_C + hidden * hidden));
  }

  /**
   * By how much, in steps, the mean of many readings may be off because of the step: with noise of
   * standard deviation s at most (1 / pi) exp(-2 pi^2 s^2), the first term of the saw tooth's
   * Fourier series (B. Widrow and I. Kollar, Quantization Noise, 2008, 4).
   */
  private double sawTooth() {
    double noise = Math.sqrt(Math.max(0, square(noiseC / stepC) - 1.0 / 12));
    return Math.exp(-2 * square(Math.PI * noise)) / Math.PI;
  }

  /** Whether all readings of the block lie on two neighbouring steps, undithered. */
  private boolean twoLevels() {
    double sd = freedom > 0 ? Math.sqrt(pooled / freedom) : 0;
    return high - low <= 1.001 * stepC && sd <= 0.6 * stepC && noiseC < SHARP * stepC;
  }

  private static double square(double x) {
    return x * x;
  }
}

package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The rates' level while still, and whether the newest seconds have left it by more than noise and
 * temperature explain. The newest 1, 2, 4, 8 and 16 seconds are held against the twenty before
 * them: a fast turn shows at once, one that a noisy second hides after some. What was left stays
 * the level to come back to until {@link #restart}. Not thread-safe.
 */
final class Levels implements Serializable {
  private static final int[] SPANS = {1, 2, 4, 8, 16};
  private static final int LONGEST = 16;
  private static final int BEFORE = 20;

  /** The Earth's rate both ways and what gravity adds in another pose stay below, deg/s. */
  private static final double POSE_DPS = 0.06;

  /** No axis of a small gyro is steeper, deg/s for each degC (common practice, no source). */
  private static final double STEEPEST_DPS_PER_C = 0.12;

  /** By chance in less than one of ten million looks. */
  private static final double NOISE_SD = 5.5;

  /**
   * One still second.
   *
   * @param dps its mean rates, x y z
   * @param readings how many made them
   * @param temperatureC the newest temperature known, degC; NaN for none
   */
  record Second(double[] dps, int readings, double temperatureC) implements Serializable {}

  /**
   * What a level can be told to.
   *
   * @param sdDps deviation of single readings, x y z
   * @param stepDps step of the rates; 0 for none seen
   * @param stepC step of the thermometer, degC
   */
  record Fineness(double[] sdDps, double stepDps, double stepC) {}

  private final List<Second> seconds = new ArrayList<>();

  /** Bounds of all seconds held and of some that are held no longer, deg/s, x y z. */
  private final double[] lowDps = new double[3];

  private final double[] highDps = new double[3];

  /** How many of the newest seconds are off the level of those before. */
  private int away;

  /** Takes the next still second; whether the tracker is now off its level. */
  boolean left(Second now, Fineness fineness) {
    if (away > 1 && apart(awayMean(), Mean.of(List.of(now)), fineness)) {
      forgetAway();
    }
    seconds.add(now);
    bound(now);
    if (away > 0) {
      away++;
      if (away > LONGEST) {
        seconds.remove(seconds.size() - away);
        away--;
      }
    } else if (seconds.size() > LONGEST + BEFORE) {
      seconds.remove(0);
    }
    away = away == 0 && calm() ? 0 : awayNow(fineness);
    return away > 0;
  }

  /** Motion: what the newest seconds were is no part of what follows. */
  void interrupt() {
    forgetAway();
  }

  /** What it was found at when it had left its level is the level from now on. */
  void restart() {
    if (away > 0) {
      seconds.subList(0, seconds.size() - away).clear();
      away = 0;
    }
  }

  private void forgetAway() {
    seconds.subList(seconds.size() - away, seconds.size()).clear();
    away = 0;
  }

  private Mean awayMean() {
    return Mean.of(seconds.subList(seconds.size() - away, seconds.size()));
  }

  /** No second is further from any other than a pose makes, so neither is the mean of any. */
  private boolean calm() {
    if (within()) {
      return true;
    }
    Arrays.fill(lowDps, Double.POSITIVE_INFINITY);
    Arrays.fill(highDps, Double.NEGATIVE_INFINITY);
    seconds.forEach(this::bound);
    return within();
  }

  private void bound(Second s) {
    for (int axis = 0; axis < 3; axis++) {
      lowDps[axis] = Math.min(lowDps[axis], s.dps[axis]);
      highDps[axis] = Math.max(highDps[axis], s.dps[axis]);
    }
  }

  private boolean within() {
    for (int axis = 0; axis < 3; axis++) {
      if (!(highDps[axis] - lowDps[axis] < POSE_DPS)) {
        return false;
      }
    }
    return true;
  }

  private int awayNow(Fineness fineness) {
    int size = seconds.size();
    for (int span : SPANS) {
      int most = away > 0 ? away : size - 1;
      if (span <= most) {
        int to = away > 0 ? size - away : size - span;
        Mean before = Mean.of(seconds.subList(Math.max(0, to - BEFORE), to));
        Mean newest = Mean.of(seconds.subList(size - span, size));
        if (apart(before, newest, fineness)) {
          return Math.max(away, span);
        }
      }
    }
    return backAtIt();
  }

  /** The newest second is at the level again; those away from it were none of it. */
  private int backAtIt() {
    if (away > 1) {
      seconds.subList(seconds.size() - away, seconds.size() - 1).clear();
    }
    return 0;
  }

  private static boolean apart(Mean a, Mean b, Fineness f) {
    double warmedC =
        Double.isNaN(a.temperatureC - b.temperatureC) ? 0 : a.temperatureC - b.temperatureC;
    double explained = POSE_DPS + f.stepDps + STEEPEST_DPS_PER_C * (Math.abs(warmedC) + f.stepC);
    double root = Math.sqrt(1.0 / a.readings + 1.0 / b.readings);
    for (int i = 0; i < 3; i++) {
      if (Math.abs(a.dps[i] - b.dps[i]) > explained + NOISE_SD * f.sdDps[i] * root) {
        return true;
      }
    }
    return false;
  }

  /** The mean of some seconds' readings. */
  private record Mean(double[] dps, int readings, double temperatureC) {
    static Mean of(List<Second> seconds) {
      double[] sum = new double[3];
      int readings = 0;
      double warmth = 0;
      for (Second s : seconds) {
        for (int i = 0; i < 3; i++) {
          sum[i] += s.readings * s.dps[i];
        }
        readings += s.readings;
        warmth += s.temperatureC;
      }
      for (int i = 0; i < 3; i++) {
        sum[i] /= readings;
      }
      return new Mean(sum, readings, warmth / seconds.size());
    }
  }
}

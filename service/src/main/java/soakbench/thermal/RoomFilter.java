package soakbench.thermal;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.stream.IntStream;
import soakbench.model.TauPrior;
import soakbench.numerics.ExponentialFit;

/**
 * Follows the temperature with a bank of Kalman filters (Kalman, J. Basic Eng. 82, 1960), one for
 * each pair of a time constant and a restlessness of the room; how well each foretells the next
 * reading is its weight (Magill, IEEE Trans. Autom. Control 10, 1965). So the time constant
 * survives a lid that was opened, and a room whose heating cycles is told from a steady one by what
 * the temperature does, not by assumption. Its cost does not grow with the soak's length.
 *
 * <p>The law: the body follows its surroundings with the time constant; these are a constant plus a
 * {@link RoomSwing}; the chip's own warming is a short transient on top, whose time constant is a
 * third dimension of the bank until it is over.
 *
 * <p>Fed in order; not thread-safe. Times are seconds since the soak began.
 */
final class RoomFilter {
  /** How far the surroundings may swing, degC, and how much each is believed beforehand. */
  private static final double[] SWING_C = {0.004, 0.05, 0.2, 0.4, 0.8};

  private static final double[] SWING_BELIEF = {0.35, 0.1, 0.2, 0.2, 0.15};
  private static final double[] TAU_S = ExponentialFit.logGrid(200, 3200, 8);
  private static final double[] CHIP_S = {17, 26, 40};

  /** How far one filter reaches to either side; a grid's step is twice that. */
  private static final double TAU_SPREAD = 0.25;

  private static final double CHIP_OVER_S = 400;

  /** However little is left of a filter's weight, it may come back. */
  private static final double MOST_AGAINST = 100;

  /**
   * What breaks within so many blocks is somebody's doing, a lid or a hand, and says nothing of how
   * restless the room is.
   */
  private static final int SUDDEN_BLOCKS = 4;

  private static final double LONGEST_STEP_S = 30;
  private static final double LEAST_NOISE_C = 0.0015;

  /** Bodies in a box of this size take some minutes (common practice, no source). */
  private static final TauPrior BODY = TauPrior.general(800, 0.6);

  /** Beyond, one filter would no longer be nearly linear. */
  private static final double MOST_SPREAD = 0.3;

  /** How much each of some time constants is believed; sums to 1. */
  private static double[] shares(TauPrior prior, double[] tauS) {
    double logSd = prior.logSd();
    double[] out =
        Arrays.stream(tauS)
            .map(tau -> Math.exp(-0.5 * Math.pow(Math.log(tau / prior.medianS()) / logSd, 2)))
            .toArray();
    double sum = Arrays.stream(out).sum();
    return Arrays.stream(out).map(x -> x / sum).toArray();
  }

  /** Evidence of a thousand seconds ago counts a little less: no room keeps its habits. */
  private static final double MEMORY = 0.995;

  /** What a lid may do to the surroundings, and a hand to the body, degC. */
  private static final double LID_C = 3;

  private static final double HAND_C = 0.1;

  /** Where people warm trackers to, give or take (common practice, no source), degC. */
  private static final double PLATEAU_C = 30;

  private static final double PLATEAU_SD_C = 4;

  private RoomState[] states = new RoomState[0];
  private double[] belief;
  private double[] evidence;
  private final BreakDetector breaks = new BreakDetector();
  private final TauPrior earlier;
  private final Deque<double[]> before = new ArrayDeque<>();
  private int pairs;
  private double lastS;

  /**
   * @param earlier what earlier soaks on the same rack say of the time constant; null for nothing
   */
  RoomFilter(TauPrior earlier) {
    this.earlier = earlier;
  }

  /**
   * Takes a block.
   *
   * @param tS its time
   * @param temperatureC its mean
   * @param noiseC standard deviation of that mean
   */
  void accept(double tS, double temperatureC, double noiseC) {
    if (states.length == 0) {
      begin(temperatureC);
    } else {
      predict(tS - lastS);
    }
    lastS = tS;
    double r2 = Math.pow(Math.max(noiseC, LEAST_NOISE_C), 2);
    double[] w = weights();
    before.addFirst(evidence.clone());
    for (int k = 0; k < states.length; k++) {
      evidence[k] = MEMORY * evidence[k] + states[k].evidence(temperatureC, r2);
    }
    watch(w, temperatureC, r2);
    for (RoomState state : states) {
      state.update(temperatureC, r2);
    }
    if (tS > CHIP_OVER_S && states.length > pairs) {
      chipIsOver();
    }
  }

  private void begin(double firstC) {
    double[] centreS = TAU_S;
    double[] spread = new double[TAU_S.length];
    Arrays.fill(spread, TAU_SPREAD);
    double[] share = shares(BODY, TAU_S);
    if (earlier != null) {
      // The general belief keeps a part, so that a soak unlike the earlier ones can say so.
      centreS = with(centreS, earlier.medianS());
      spread = with(spread, Math.min(MOST_SPREAD, earlier.logSd()));
      share =
          with(
              Arrays.stream(share).map(x -> x * (1 - RoomOutlook.EARLIER_SHARE)).toArray(),
              RoomOutlook.EARLIER_SHARE);
    }
    pairs = centreS.length * SWING_C.length;
    states = new RoomState[pairs * CHIP_S.length];
    belief = new double[states.length];
    evidence = new double[states.length];
    int k = 0;
    for (int t = 0; t < centreS.length; t++) {
      for (int s = 0; s < SWING_C.length; s++) {
        for (double chip : CHIP_S) {
          states[k] =
              new RoomState(
                  centreS[t], chip, spread[t], SWING_C[s], firstC, PLATEAU_C, PLATEAU_SD_C);
          belief[k++] = Math.log(SWING_BELIEF[s] * share[t]);
        }
      }
    }
  }

  private static double[] with(double[] values, double last) {
    double[] out = Arrays.copyOf(values, values.length + 1);
    out[values.length] = last;
    return out;
  }

  private void predict(double seconds) {
    int steps = (int) Math.ceil(seconds / LONGEST_STEP_S);
    RoomSwing swing = RoomSwing.over(seconds / steps);
    for (RoomState state : states) {
      for (int i = 0; i < steps; i++) {
        state.predict(seconds / steps, swing);
      }
    }
  }

  private void watch(double[] w, double temperatureC, double r2) {
    double mean = 0;
    double square = 0;
    for (int k = 0; k < w.length; k++) {
      double m = states[k].expectedC();
      mean += w[k] * m;
      square += w[k] * (m * m + states[k].expectedVariance());
    }
    double sd = Math.sqrt(Math.max(0, square - mean * mean) + r2);
    int back = breaks.accept(temperatureC - mean, Math.max(sd, BreakDetector.LEAST_SD_C), 0);
    if (back > 0) {

      for (RoomState state : states) {
        state.disturb(LID_C, HAND_C);
      }
      if (back <= before.size() && back <= SUDDEN_BLOCKS) {
        evidence = before.stream().skip(back - 1L).findFirst().orElseThrow().clone();
      }
    }
    while (before.size() > SUDDEN_BLOCKS) {
      before.removeLast();
    }
  }

  /** From now on one filter for each pair is enough: the likeliest of its chips. */
  private void chipIsOver() {
    double[] w = weights();
    int n = pairs;
    RoomState[] kept = new RoomState[n];
    double[] total = new double[n];
    double[] keptBelief = new double[n];
    for (int k = 0; k < n; k++) {
      int best = k * CHIP_S.length;
      for (int c = 0; c < CHIP_S.length; c++) {
        int other = k * CHIP_S.length + c;
        total[k] += w[other];
        best = w[other] > w[best] ? other : best;
      }
      kept[k] = states[best];
      kept[k].settle();
      keptBelief[k] = belief[best];
      total[k] = Math.max(-MOST_AGAINST, Math.log(total[k])) - keptBelief[k];
    }
    before.clear();
    states = kept;
    belief = keptBelief;
    evidence = total;
  }

  private double[] weights() {
    double[] w = new double[states.length];
    double top = Double.NEGATIVE_INFINITY;
    for (int k = 0; k < w.length; k++) {
      w[k] = belief[k] + evidence[k];
      top = Math.max(top, w[k]);
    }
    double sum = 0;
    for (int k = 0; k < w.length; k++) {
      w[k] = Math.exp(w[k] - top);
      sum += w[k];
    }
    for (int k = 0; k < w.length; k++) {
      w[k] /= sum;
    }
    return w;
  }

  /** What is known now; null before the first block. */
  RoomOutlook outlook() {
    if (states.length == 0) {
      return null;
    }
    double[] w = weights();
    int[] counts = IntStream.range(0, w.length).filter(k -> w[k] > 1e-4).toArray();
    RoomOutlook.Part[] parts =
        Arrays.stream(counts).mapToObj(k -> states[k].part(w[k])).toArray(RoomOutlook.Part[]::new);
    return new RoomOutlook(parts);
  }
}

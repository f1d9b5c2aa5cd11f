package soakbench.drift.curve;

import java.util.Arrays;
import java.util.List;
import soakbench.drift.still.BiasModel;
import soakbench.numerics.LevelShifts;
import soakbench.numerics.LevelShifts.Series;

/**
 * How much clearer a soak's blocks become by a step into each of them, and by each not belonging:
 * twice the gain of the logarithm of the likelihood, summed over the axes. What else explains them
 * is the temperature, its rate (lag), its direction (hysteresis, which is a step where it turns),
 * and what settles after power-on. Not thread-safe.
 */
final class StepEvidence {
  /** B / N, from the one at which the flicker floor is 0.12 times a half-minute's white noise. */
  private static final double LEAST_RATIO = 0.12 / (Math.sqrt(30) * 0.664);

  private static final double RATIO_STEP = Math.sqrt(2);
  private static final int RATIOS = 13;

  /** What flicker of B adds to the variance at 1 s: the square of the Allan floor. */
  private static final double FLOOR_SQUARED = 2 * Math.log(2) / Math.PI;

  /** No gyro is believed to have less flicker than this, deg/s: 2 degrees an hour. */
  private static final double LEAST_FLICKER_DPS = 2 / 3600.0;

  private static final double LEAST_NOISE_DPS = 1e-6;

  /** Of a level, or a power of the temperature scaled to -1 to 1; as good as anything, deg/s. */
  private static final double ANY_DPS = 1;

  /** Warming against cooling, deg/s (common practice, no source). */
  private static final double DIRECTION_DPS = 0.02;

  /** As the bias curve believes, deg/s for each degC/s. */
  private static final double LAG_SD = 0.15;

  /** At this rate it clearly warms or cools, degC/s. */
  private static final double CLEAR_C_PER_S = 0.05 / 60;

  /** At power-on, deg/s, with two time constants, s (common practice, no source). */
  private static final double SETTLING_DPS = 0.04;

  private static final double[] SETTLING_S = {200, 400};

  private final List<StepBlock> all;
  private final double[] whiteDps;
  private final double[] leastDps;
  private final Series series;
  private final double[][] biasDps;
  private double[] step;
  private double[] odd;

  StepEvidence(List<StepBlock> blocks, double[] whiteDps, double[] leastDps) {
    this.all = blocks;
    this.whiteDps = whiteDps;
    this.leastDps = leastDps;
    int n = blocks.size();
    boolean[] used = new boolean[n];
    boolean[] fresh = new boolean[n];
    for (int i = 0; i < n; i++) {
      used[i] = !Double.isNaN(blocks.get(i).temperatureC());
      fresh[i] = i == 0 || blocks.get(i).segment() != blocks.get(i - 1).segment();
    }
    this.series = series(blocks, fresh, used);
    this.biasDps = new double[3][];
    for (int axis = 0; axis < 3; axis++) {
      biasDps[axis] = aboutZero(axis);
    }
  }

  private static Series series(List<StepBlock> blocks, boolean[] fresh, boolean[] used) {
    double[] celsius =
        blocks.stream()
            .mapToDouble(StepBlock::temperatureC)
            .filter(Double::isFinite)
            .sorted()
            .toArray();
    double low = celsius.length == 0 ? 0 : celsius[0];
    double high = celsius.length == 0 ? 1 : celsius[celsius.length - 1];
    int order = BiasModel.orderForSpan(high - low);
    double[] prior = new double[order + 2 + SETTLING_S.length];
    Arrays.fill(prior, 0, order, ANY_DPS);
    prior[order] = LAG_SD;
    prior[order + 1] = DIRECTION_DPS;
    Arrays.fill(prior, order + 2, prior.length, SETTLING_DPS);
    double[][] columns = new double[blocks.size()][prior.length];
    for (int i = 0; i < columns.length; i++) {
      if (used[i]) {
        double scaled = (2 * blocks.get(i).temperatureC() - low - high) / Math.max(0.1, high - low);
        columns[i] = columns(blocks.get(i), scaled, order);
      }
    }
    return new Series(
        blocks.stream().mapToDouble(StepBlock::midS).toArray(),
        blocks.stream().mapToDouble(StepBlock::widthS).toArray(),
        columns,
        prior,
        ANY_DPS,
        fresh,
        used);
  }

  private static double[] columns(StepBlock block, double scaled, int order) {
    double[] row = new double[order + 2 + SETTLING_S.length];
    for (int k = 0; k < order; k++) {
      row[k] = Math.pow(scaled, k + 1);
    }
    row[order] = block.rateCPerS();
    row[order + 1] = Math.tanh(block.rateCPerS() / CLEAR_C_PER_S);
    for (int k = 0; k < SETTLING_S.length; k++) {
      row[order + 2 + k] = Math.exp(-block.sinceBootS() / SETTLING_S[k]);
    }
    return row;
  }

  private double[] aboutZero(int axis) {
    double mean = all.stream().mapToDouble(b -> b.biasDps()[axis]).average().orElse(0);
    return all.stream().mapToDouble(b -> b.biasDps()[axis] - mean).toArray();
  }

  int blocks() {
    return all.size();
  }

  /** How many blocks still count. */
  int usedCount() {
    int count = 0;
    for (boolean used : series.used()) {
      count += used ? 1 : 0;
    }
    return count;
  }

  /** What a step into a block gains. */
  double step(int block) {
    return step[block];
  }

  /** What leaving a block out gains. */
  double odd(int block) {
    return odd[block];
  }

  /** The block, of these, that belongs least. */
  int oddest(int first, int last) {
    int most = first;
    for (int k = first; k <= last; k++) {
      most = odd[k] > odd[most] ? k : most;
    }
    return most;
  }

  /** Leaves a block out from now on; whether it counted until then. */
  boolean leaveOut(int block) {
    boolean counted = series.used()[block];
    series.used()[block] = false;
    return counted;
  }

  /** Begins another level after a block, and leaves the block out. */
  void cut(int block) {
    leaveOut(block);
    series.fresh()[block + 1] = true;
  }

  /** How many blocks of its pose count on either side of a block, the fewer of the two. */
  int sidesOf(int block) {
    boolean[] used = series.used();
    boolean[] fresh = series.fresh();
    int before = 0;
    for (int k = block; k > 0 && !fresh[k]; k--) {
      before += used[k - 1] ? 1 : 0;
    }
    int after = 0;
    for (int k = block + 1; k < used.length && !fresh[k] && after < before; k++) {
      after += used[k] ? 1 : 0;
    }
    return Math.min(before, after);
  }

  /** What a step into a block gains where those around it do not count; nothing else changes. */
  double stepWithout(int block, int first, int last) {
    boolean[] used = series.used().clone();
    Arrays.fill(series.used(), first, last + 1, false);
    weigh();
    System.arraycopy(used, 0, series.used(), 0, used.length);
    return step[block];
  }

  /** Weighs all places. */
  void weigh() {
    step = new double[all.size()];
    odd = new double[all.size()];
    for (int axis = 0; axis < 3; axis++) {
      if (whiteDps[axis] > LEAST_NOISE_DPS) {
        weigh(axis);
      }
    }
  }

  private void weigh(int axis) {
    LevelShifts[] fits = new LevelShifts[RATIOS];
    double most = Double.NEGATIVE_INFINITY;
    for (int k = 0; k < RATIOS; k++) {
      double ratio = LEAST_RATIO * Math.pow(RATIO_STEP, k);
      double white = whiteDps[axis] / Math.sqrt(1 + FLOOR_SQUARED * ratio * ratio);
      if (ratio * white >= LEAST_FLICKER_DPS || k == RATIOS - 1) {
        fits[k] = LevelShifts.of(series, biasDps[axis], white, ratio * white);
        most = Math.max(most, fits[k].logLikelihood());
      }
    }
    for (int i = 0; i < step.length; i++) {
      add(axis, i, fits, most);
    }
  }

  private void add(int axis, int block, LevelShifts[] fits, double most) {
    double stepped = most;
    double without = most;
    double dps = 0;
    for (LevelShifts fit : fits) {
      if (fit != null) {
        double likelihood = fit.logLikelihood() + fit.shiftSquared(block) / 2;
        dps = likelihood > stepped ? fit.size(block) : dps;
        stepped = Math.max(stepped, likelihood);
        without = Math.max(without, fit.logLikelihood() + fit.pulseSquared(block) / 2);
      }
    }
    step[block] += Math.abs(dps) < leastDps[axis] ? 0 : 2 * (stepped - most);
    odd[block] += 2 * (without - most);
  }
}

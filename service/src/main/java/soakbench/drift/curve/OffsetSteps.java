package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.IntStream;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasBlocks;
import soakbench.model.Bin;

/**
 * Steps of the bias in one pose: firmware that is calibrated as it lies takes another offset off
 * from one second to the next. Such a step is a new offset, never a new curve. It stands where the
 * bias changes within a minute by more than the minutes beside it, its own scatter and the
 * temperature explain. Medians of five blocks are looked at, so that one or two that do not belong
 * are no step.
 */
final class OffsetSteps {
  /** Of fewer changes no scatter is known. */
  private static final int LEAST = 10;

  /** Blocks on either side that a change is held against. */
  private static final int REACH = 3;

  /** Blocks on either side that a median is of. */
  private static final int HALF = 2;

  private static final double LONGEST_S = (2 * (REACH + HALF) + 0.5) * BiasBlocks.BLOCK_S;

  /** Standard deviations of a change: never in a soak by chance, flicker allowed for. */
  private static final double SURE = 6;

  /** The median of magnitudes in standard deviations of a normal variable. */
  private static final double MEDIAN = 0.6745;

  /** Less can be flicker while the temperature moves: 5 of 72 soaks without a step had 0.01. */
  private static final double LEAST_DPS = 0.020;

  /** Steeper than any unit, deg/s per degC (common practice, no source). */
  private static final double STEEPEST_DPS = 0.1;

  /** Less than this in a minute is no turn of the temperature, degC. */
  private static final double LEAST_C = 0.02;

  private final List<BiasBlock> blocks;
  private final double[][] medians;
  private final double[][] changes;
  private final double[] allowedDps = new double[3];

  private OffsetSteps(StillSoak soak) {
    this.blocks = soak.blocks();
    int count = blocks.size();
    this.medians = IntStream.range(0, count).mapToObj(this::median).toArray(double[][]::new);
    this.changes = IntStream.range(0, count).mapToObj(this::change).toArray(double[][]::new);
    for (int axis = 0; axis < 3; axis++) {
      allowedDps[axis] = Math.max(LEAST_DPS, SURE * scatter(axis)) + coarseDps(soak, axis);
    }
  }

  /**
   * The soak's blocks with a pose of its own from each step on, and one for the block it fell into.
   */
  static List<BiasBlock> apart(StillSoak soak) {
    OffsetSteps steps = new OffsetSteps(soak);
    List<BiasBlock> out = new ArrayList<>();
    int more = 0;
    for (int k = 0; k < steps.blocks.size(); k++) {
      more += steps.at(k) || k > 0 && steps.at(k - 1) ? 1 : 0;
      BiasBlock b = steps.blocks.get(k);
      int pose = b.segment() + more;
      out.add(new BiasBlock(b.midS(), b.widthS(), b.temperatureC(), b.biasDps(), pose));
    }
    return out;
  }

  /** Of a block and those around it: rates x y z and temperature. */
  private double[] median(int k) {
    double[] out = new double[4];
    for (int i = 0; i < 4; i++) {
      int channel = i;
      double[] around =
          IntStream.rangeClosed(Math.max(0, k - HALF), Math.min(blocks.size() - 1, k + HALF))
              .mapToObj(blocks::get)
              .mapToDouble(b -> channel < 3 ? b.biasDps()[channel] : b.temperatureC())
              .sorted()
              .toArray();
      out[i] = around[around.length / 2];
    }
    return out;
  }

  /**
   * By how much more it changed around a block than on either side of that; null where it did not
   * lie in one pose so long.
   */
  private double[] change(int k) {
    int first = k - REACH - HALF;
    int last = k + REACH + HALF;
    if (first < 0
        || last >= blocks.size()
        || blocks.get(first).segment() != blocks.get(last).segment()
        || blocks.get(last).midS() - blocks.get(first).midS() > LONGEST_S) {
      return null;
    }
    double[] out = new double[4];
    for (int i = 0; i < 4; i++) {
      double before = medians[k - 1][i] - medians[k - REACH][i];
      double after = medians[k + REACH][i] - medians[k + 1][i];
      out[i] = medians[k + 1][i] - medians[k - 1][i] - (before + after) / 2;
    }
    return out;
  }

  /** By the median, which a step or two do not move. */
  private double scatter(int axis) {
    double[] all =
        Arrays.stream(changes)
            .filter(Objects::nonNull)
            .mapToDouble(change -> Math.abs(change[axis]))
            .sorted()
            .toArray();
    return all.length < LEAST ? Double.POSITIVE_INFINITY : all[all.length / 2] / MEDIAN;
  }

  /** A reading's step that its noise does not carry it over is a step of the mean, too. */
  private static double coarseDps(StillSoak soak, int axis) {
    double stepDps =
        soak.pieces().stream()
            .flatMap(List::stream)
            .mapToDouble(Bin::gyroStepDps)
            .filter(Double::isFinite)
            .max()
            .orElse(0);
    double noiseDps = soak.whiteDps()[axis] * Math.sqrt(soak.sampleRateHz());
    return noiseDps > stepDps / 2 ? 0 : 2 * stepDps;
  }

  /** Whether a step falls into this block: where it is clearest of those around it. */
  private boolean at(int k) {
    double here = turns(k) ? 0 : clearness(k);
    int last = Math.min(changes.length - 1, k + REACH);
    return here > 1
        && IntStream.rangeClosed(Math.max(0, k - REACH), last)
            .allMatch(i -> clearness(i) < here || clearness(i) == here && i >= k);
  }

  /** Where the temperature turns, hysteresis and lag are steps too, and none of an offset. */
  private boolean turns(int k) {
    if (changes[k] == null) {
      return false;
    }
    double before = celsius(k - REACH) - celsius(k - REACH - HALF);
    double after = celsius(k + REACH + HALF) - celsius(k + REACH);
    return before * after < 0 && Math.min(Math.abs(before), Math.abs(after)) > LEAST_C;
  }

  private double celsius(int block) {
    return blocks.get(block).temperatureC();
  }

  private double clearness(int k) {
    double most = 0;
    for (int axis = 0; axis < 3 && changes[k] != null; axis++) {
      double allowed = allowedDps[axis] + STEEPEST_DPS * Math.abs(changes[k][3]);
      most = Math.max(most, Math.abs(changes[k][axis]) / allowed);
    }
    return most;
  }
}

package soakbench.drift.still;

import java.io.Serializable;
import java.util.List;
import java.util.stream.IntStream;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Finds an axis that is dead: it has read one and the same value for a minute and ever since, and
 * either always did, or never for long before. One whose step is coarser than its noise may rest on
 * a value for long and lives all the same. Not thread-safe.
 */
public final class LivingAxes implements Serializable {
  /** What sums of equal readings differ by is less, deg/s. */
  public static final double LEAST_DPS = 1e-6;

  private static final int LEAST_SECONDS = 60;

  /** An axis whose noise carries it over its step rests no longer on one value, s. */
  private static final int LONGEST_REST_S = 10;

  private final double[] valueDps = {Double.NaN, Double.NaN, Double.NaN};
  private final int[] restS = new int[3];
  private final int[] longestRestS = new int[3];

  void accept(Bin bin) {
    for (int axis = 0; axis < 3; axis++) {
      Channel c = bin.gyroDps()[axis];
      boolean moves = c.sd() > LEAST_DPS || Math.abs(c.mean() - valueDps[axis]) > LEAST_DPS;
      if (moves) {
        longestRestS[axis] = Math.max(longestRestS[axis], restS[axis]);
        restS[axis] = 0;
        valueDps[axis] = c.mean();
      } else {
        valueDps[axis] = Double.isNaN(valueDps[axis]) ? c.mean() : valueDps[axis];
        restS[axis]++;
      }
    }
  }

  /** Those that are dead: 0 x, 1 y, 2 z. */
  List<Integer> dead() {
    if (!dead(0) && !dead(1) && !dead(2)) {
      return List.of();
    }
    return IntStream.range(0, 3).filter(this::dead).boxed().toList();
  }

  private boolean dead(int axis) {
    return restS[axis] >= LEAST_SECONDS && longestRestS[axis] <= LONGEST_REST_S;
  }
}

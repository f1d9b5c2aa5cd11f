package soakbench.drift.still;

import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Finds an axis that never changes: dead, or too coarse to show any drift. Not thread-safe. */
final class LivingAxes {
  private static final int LEAST_SECONDS = 60;

  private final double[] first = {Double.NaN, Double.NaN, Double.NaN};
  private final boolean[] alive = new boolean[3];
  private int seconds;

  void accept(Bin bin) {
    for (int axis = 0; axis < 3; axis++) {
      Channel c = bin.gyroDps()[axis];
      first[axis] = Double.isNaN(first[axis]) ? c.mean() : first[axis];
      alive[axis] |= c.sd() > 0 || c.mean() != first[axis];
    }
    seconds++;
  }

  int dead() {
    for (int axis = 0; axis < 3; axis++) {
      if (!alive[axis] && seconds >= LEAST_SECONDS) {
        return axis;
      }
    }
    return -1;
  }
}

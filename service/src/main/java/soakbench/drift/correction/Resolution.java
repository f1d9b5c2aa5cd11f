package soakbench.drift.correction;

import java.io.Serializable;
import soakbench.drift.still.LivingAxes;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Whether an axis' own noise carries its readings over their steps: only then are means finer than
 * a step, and their noise like that of any sum. Half a step is the usual measure (common practice,
 * no source). An axis that reads one and the same value has no noise to judge by: it is dead. Not
 * thread-safe.
 */
final class Resolution implements Serializable {
  private static final double LEAST_STEPS = 0.5;

  private final double[] variance = new double[3];
  private double stepDps = Double.POSITIVE_INFINITY;
  private final double[] firstDps = {Double.NaN, Double.NaN, Double.NaN};
  private final boolean[] alive = new boolean[3];
  private int seconds;

  void accept(Bin bin) {
    if (bin.gyroStepDps() > 0) {
      stepDps = Math.min(stepDps, bin.gyroStepDps());
    }
    boolean spread = true;
    for (int i = 0; i < 3; i++) {
      Channel c = bin.gyroDps()[i];
      spread &= c.count() > 1;
      firstDps[i] = Double.isNaN(firstDps[i]) ? c.mean() : firstDps[i];
      double moved = Math.max(c.count() > 1 ? c.sd() : 0, Math.abs(c.mean() - firstDps[i]));
      alive[i] |= moved > LivingAxes.LEAST_DPS;
    }
    if (!spread) {
      return;
    }
    seconds++;
    for (int i = 0; i < 3; i++) {
      double sd = bin.gyroDps()[i].sd();
      variance[i] += sd * sd;
    }
  }

  /** True too where single readings a second leave it open, as long as they differ. */
  boolean enough(int axis) {
    boolean open = seconds == 0 || stepDps == Double.POSITIVE_INFINITY;
    return alive[axis] && (open || Math.sqrt(variance[axis] / seconds) >= LEAST_STEPS * stepDps);
  }
}

package soakbench.drift.correction;

import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Whether an axis' own noise carries its readings over their steps: only then are means finer than
 * a step, and their noise like that of any sum. Half a step is the usual measure (common practice,
 * no source). Not thread-safe.
 */
final class Resolution {
  private static final double LEAST_STEPS = 0.5;

  private final double[] variance = new double[3];
  private double stepDps = Double.POSITIVE_INFINITY;
  private int seconds;

  void accept(Bin bin) {
    if (bin.gyroStepDps() > 0) {
      stepDps = Math.min(stepDps, bin.gyroStepDps());
    }
    boolean spread = true;
    for (Channel c : bin.gyroDps()) {
      spread &= c.count() > 1;
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

  /** True too where single readings a second leave it open. */
  boolean enough(int axis) {
    return seconds == 0
        || stepDps == Double.POSITIVE_INFINITY
        || Math.sqrt(variance[axis] / seconds) >= LEAST_STEPS * stepDps;
  }
}

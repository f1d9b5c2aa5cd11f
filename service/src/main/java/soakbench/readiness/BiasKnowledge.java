package soakbench.readiness;

import java.io.Serializable;
import java.util.Arrays;
import java.util.List;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.BlockDigest;

/**
 * The three axes' bias curves as the soak has shown them so far; fitted again with every new
 * half-minute block at first, later with a twentieth more of them. Not thread-safe.
 */
final class BiasKnowledge implements Serializable {
  /**
   * Before a unit has shown its own coefficient: zero, give or take 0.05 deg/s per degC; common
   * figures of small gyros are below 0.05 (common practice, no source). The soak's own blocks
   * outweigh it as soon as the temperature has moved.
   */
  static final BiasModel.Prior PRIOR = new BiasModel.Prior(0.05, 0.003, 0.0003);

  private static final int LEAST_BLOCKS = 4;
  private static final int FLICKER_EVERY = 4;

  /** A twentieth more blocks, and the fit is made again. */
  private static final int EVERY = 20;

  private final BlockDigest digest = new BlockDigest();
  private final double[] flicker = {Double.NaN, Double.NaN, Double.NaN};
  private BiasModel[] models;
  private int taken;
  private int refits;

  void update(BiasBlocks blocks, double temperatureC) {
    List<BiasBlock> all = blocks.blocks();
    double[] white = blocks.whiteNoiseDps();
    if (all.size() < Math.max(LEAST_BLOCKS, taken + 1 + taken / EVERY) || Double.isNaN(white[0])) {
      return;
    }
    all.subList(taken, all.size()).forEach(digest::add);
    taken = all.size();
    if (refits % FLICKER_EVERY == 0) {
      Arrays.fill(flicker, Double.NaN);
    }
    int order = BiasModel.orderForSpan(digest.spanC());
    models = BiasModel.ofAxes(digest.blocks(), order, temperatureC, white, flicker, PRIOR);
    for (int axis = 0; axis < 3; axis++) {
      flicker[axis] = models[axis].flickerDps();
    }
    refits++;
  }

  boolean known() {
    return models != null;
  }

  BiasModel axis(int axis) {
    return models[axis];
  }
}

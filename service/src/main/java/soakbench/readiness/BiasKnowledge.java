package soakbench.readiness;

import java.util.List;
import soakbench.drift.BiasBlock;
import soakbench.drift.BiasBlocks;
import soakbench.drift.BiasModel;

/**
 * The three axes' bias curves as the soak has shown them so far; fitted again with every new
 * half-minute block. Not thread-safe.
 */
final class BiasKnowledge {
  /**
   * Before a unit has shown its own coefficient: zero, give or take 0.05 deg/s per degC; common
   * figures of small gyros are below 0.05 (common practice, no source). The soak's own blocks
   * outweigh it as soon as the temperature has moved.
   */
  private static final BiasModel.Belief BELIEF = new BiasModel.Belief(0.05, 0.003, 0.0003);

  private static final int LEAST_BLOCKS = 4;
  private static final int FLICKER_EVERY = 4;

  private final BiasModel[] models = new BiasModel[3];
  private final double[] flicker = {Double.NaN, Double.NaN, Double.NaN};
  private int fittedBlocks;
  private int refits;

  void update(BiasBlocks blocks, double temperatureC) {
    int size = blocks.blocks().size();
    if (size == fittedBlocks || size < LEAST_BLOCKS || Double.isNaN(blocks.whiteNoiseDps()[0])) {
      return;
    }
    fittedBlocks = size;
    List<BiasBlock> used = BiasModel.bounded(blocks.blocks());
    double low = used.stream().mapToDouble(BiasBlock::temperatureC).min().orElseThrow();
    double high = used.stream().mapToDouble(BiasBlock::temperatureC).max().orElseThrow();
    int order = BiasModel.orderForSpan(high - low);
    boolean search = refits % FLICKER_EVERY == 0;
    for (int axis = 0; axis < 3; axis++) {
      double b = search ? Double.NaN : flicker[axis];
      double white = blocks.whiteNoiseDps()[axis];
      models[axis] = BiasModel.of(used, axis, order, temperatureC, white, b, BELIEF);
      flicker[axis] = models[axis].flickerDps();
    }
    refits++;
  }

  boolean known() {
    return models[0] != null;
  }

  BiasModel axis(int axis) {
    return models[axis];
  }
}

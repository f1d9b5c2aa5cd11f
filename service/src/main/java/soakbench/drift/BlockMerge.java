package soakbench.drift;

import java.util.ArrayList;
import java.util.List;

/**
 * Keeps the cost of a fit from growing with the soak: neighbouring blocks of one pose are joined.
 */
final class BlockMerge {
  private static final int MOST_BLOCKS = 160;

  private BlockMerge() {}

  /** Neighbours of one pose joined until there are few enough. */
  static List<BiasBlock> merged(List<BiasBlock> blocks) {
    List<BiasBlock> out = blocks;
    while (out.size() > MOST_BLOCKS) {
      List<BiasBlock> half = new ArrayList<>();
      for (int i = 0; i < out.size(); i++) {
        BiasBlock a = out.get(i);
        BiasBlock b = i + 1 < out.size() ? out.get(i + 1) : null;
        if (b != null && b.segment() == a.segment()) {
          half.add(join(a, b));
          i++;
        } else {
          half.add(a);
        }
      }
      if (half.size() > 0.9 * out.size()) {
        return half.subList(half.size() - Math.min(half.size(), MOST_BLOCKS), half.size());
      }
      out = half;
    }
    return out;
  }

  private static BiasBlock join(BiasBlock a, BiasBlock b) {
    double w = a.widthS() + b.widthS();
    double[] bias = new double[3];
    for (int i = 0; i < 3; i++) {
      bias[i] = (a.biasDps()[i] * a.widthS() + b.biasDps()[i] * b.widthS()) / w;
    }
    return new BiasBlock(
        (a.midS() * a.widthS() + b.midS() * b.widthS()) / w,
        w,
        (a.temperatureC() * a.widthS() + b.temperatureC() * b.widthS()) / w,
        bias,
        a.segment());
  }
}

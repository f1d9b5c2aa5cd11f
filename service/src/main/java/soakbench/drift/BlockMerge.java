package soakbench.drift;

import java.util.ArrayList;
import java.util.List;

/** Keeps the figures' fit of a long soak affordable: neighbouring blocks of one pose are joined. */
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
          half.add(BlockDigest.joined(a, b));
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
}

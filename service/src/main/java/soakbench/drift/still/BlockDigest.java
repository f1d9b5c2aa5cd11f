package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;

/**
 * A soak's blocks in so few rows that a fit costs the same after ten minutes and after ten hours.
 * Whenever there are too many, the two neighbours of one pose are joined that lie closest in
 * temperature and time (Ward, J. Am. Stat. Assoc. 58, 1963), so the rows stay where the temperature
 * moved. A pose left with one block is dropped: its own offset takes up the whole block. Not
 * thread-safe.
 */
public final class BlockDigest implements Serializable {
  static final int MOST_BLOCKS = 80;

  /** The newest are kept as they came, for the flicker's fast part. */
  private static final int AS_THEY_CAME = 20;

  /** So many seconds apart count like one degree apart. */
  private static final double SECONDS_PER_C = 1200;

  private final List<BiasBlock> blocks = new ArrayList<>();
  private double lowC = Double.POSITIVE_INFINITY;
  private double highC = Double.NEGATIVE_INFINITY;

  /** Takes the next block. */
  public void add(BiasBlock block) {
    int last = blocks.size() - 1;
    boolean newPose = last >= 0 && blocks.get(last).segment() != block.segment();
    if (newPose && alone(last)) {
      blocks.remove(last);
    }
    blocks.add(block);
    lowC = Math.min(lowC, block.temperatureC());
    highC = Math.max(highC, block.temperatureC());
    if (blocks.size() > MOST_BLOCKS) {
      joinClosest();
    }
  }

  private boolean alone(int i) {
    int pose = blocks.get(i).segment();
    boolean before = i > 0 && blocks.get(i - 1).segment() == pose;
    boolean after = i + 1 < blocks.size() && blocks.get(i + 1).segment() == pose;
    return !before && !after;
  }

  /** There always is a pair: no pose but the newest has only one block. */
  private void joinClosest() {
    int closest = 0;
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i + 1 < blocks.size() - AS_THEY_CAME; i++) {
      double apart = apart(blocks.get(i), blocks.get(i + 1));
      if (apart < least) {
        least = apart;
        closest = i;
      }
    }
    blocks.set(closest, joined(blocks.get(closest), blocks.remove(closest + 1)));
    if (alone(closest)) {
      blocks.remove(closest);
    }
  }

  /** What joining loses: the sum of squares between the two. */
  private static double apart(BiasBlock a, BiasBlock b) {
    if (a.segment() != b.segment()) {
      return Double.POSITIVE_INFINITY;
    }
    double celsius = a.temperatureC() - b.temperatureC();
    double time = (a.midS() - b.midS()) / SECONDS_PER_C;
    double weight = a.widthS() * b.widthS() / (a.widthS() + b.widthS());
    return weight * (celsius * celsius + time * time);
  }

  static BiasBlock joined(BiasBlock a, BiasBlock b) {
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

  /** At most eighty blocks, by time. */
  public List<BiasBlock> blocks() {
    return List.copyOf(blocks);
  }

  /** Temperatures that all blocks taken so far cover, those let go included, degC. */
  public double spanC() {
    return blocks.isEmpty() ? 0 : highC - lowC;
  }
}

package soakbench.drift.curve;

import java.util.List;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;

/**
 * Looks for steps of a stored offset among a soak's still blocks. At each block it is asked by how
 * much a step there makes all of them likelier, whatever flicker noise explains them best with and
 * without it (generalized likelihood ratio); where nothing steps, twice the logarithm summed over
 * the axes is chi-squared with three degrees of freedom. The limit allows for the number of places
 * that are looked at (Bonferroni). The clearest is taken first, be it a step or a block that does
 * not belong, and the rest is looked at again (Chen and Liu, J. American Statistical Association
 * 88, 1993). A step must also last without the minutes around it, or it was somebody's touch.
 */
final class StepSearch {
  /** Chance that a soak in which nothing steps is cut, were the model of it perfect. */
  private static final double FALSE_ALARM = 1e-4;

  /** The same of one place, when a step is asked whether it lasts. */
  private static final double FALSE_LASTING = 1e-4;

  /** Of fewer blocks the flicker noise is not known. */
  private static final int LEAST = 20;

  /** Blocks on either side of a step. */
  private static final int SIDE = 5;

  /** Blocks around a step without which it must last. */
  private static final int TOUCH = 2;

  /** More than this do not fail to belong. */
  private static final double MOST_LEFT_OUT = 0.15;

  private final StepEvidence evidence;
  private final boolean[] steps;

  private StepSearch(StepEvidence evidence) {
    this.evidence = evidence;
    this.steps = new boolean[evidence.blocks()];
  }

  /**
   * Finds the blocks into which a step falls.
   *
   * @param blocks still blocks by time; those with an unknown temperature (NaN) are looked past
   * @param whiteDps N of each axis, deg/s at 1 s; NaN or 0 for one that shows nothing
   * @param leastDps a smaller step of an axis is none, deg/s
   * @return one entry for each block
   */
  static boolean[] steps(List<StepBlock> blocks, double[] whiteDps, double[] leastDps) {
    StepSearch search = new StepSearch(new StepEvidence(blocks, whiteDps, leastDps));
    search.run();
    return search.steps;
  }

  private void run() {
    int known = evidence.usedCount();
    int least = Math.max(LEAST, (int) Math.ceil((1 - MOST_LEFT_OUT) * known));
    double limit = limit(FALSE_ALARM / Math.max(1, known));
    boolean more = true;
    while (more && evidence.usedCount() >= least) {
      evidence.weigh();
      more = takeClearest(limit);
    }
  }

  /** Whether there was any. */
  private boolean takeClearest(double limit) {
    int step = clearestStep();
    int odd = evidence.oddest(0, evidence.blocks() - 1);
    if (step >= 0 && evidence.step(step) > Math.max(limit, evidence.odd(odd))) {
      return takeStep(step);
    }
    if (evidence.odd(odd) > limit) {
      evidence.leaveOut(odd);
      return true;
    }
    return false;
  }

  private boolean takeStep(int step) {
    int first = Math.max(0, step - TOUCH);
    int last = Math.min(evidence.blocks() - 1, step + TOUCH);
    int odd = evidence.oddest(first, last);
    if (evidence.stepWithout(step, first, last) > limit(FALSE_LASTING)) {
      steps[step] = true;
      evidence.cut(step);
      return true;
    }
    return evidence.leaveOut(odd);
  }

  private int clearestStep() {
    int best = -1;
    for (int k = 0; k < evidence.blocks(); k++) {
      boolean clearer = best < 0 || evidence.step(k) > evidence.step(best);
      best = clearer && evidence.sidesOf(k) >= SIDE ? k : best;
    }
    return best;
  }

  private static double limit(double chance) {
    return new ChiSquaredDistribution(3).inverseCumulativeProbability(1 - chance);
  }
}

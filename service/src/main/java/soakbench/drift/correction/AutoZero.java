package soakbench.drift.correction;

import java.io.Serializable;
import soakbench.drift.still.BiasBlock;

/**
 * Watches the still level before and after each motion: firmware that zeroes itself whenever it
 * comes to rest brings all axes back to zero, however far they had drifted, while another pose of
 * an uncorrected unit moves each by a little. Twice is enough if it has never failed; once may be
 * somebody's calibration, and so may a reboot. Not thread-safe.
 */
final class AutoZero implements Serializable {
  private static final int ENOUGH = 2;

  /**
   * Twice the Earth's rate and gravity's part, on the generous side, deg/s (common practice, no
   * source).
   */
  private static final double POSE_DPS = 0.04;

  /** A mean of so many still seconds at least is what firmware sets as zero, s. */
  private static final double ZEROING_S = 1;

  private static final double LONGEST_S = 180;

  private BiasBlock last;
  private int boot;
  private double bootS = Double.NEGATIVE_INFINITY;
  private int returned;

  void second(int newBoot, double tS) {
    if (newBoot != boot) {
      boot = newBoot;
      bootS = tS;
    }
  }

  void accept(BiasBlock block, double[] whiteDps) {
    boolean moved =
        last != null
            && last.segment() != block.segment()
            && bootS < last.midS()
            && block.midS() - last.midS() < LONGEST_S;
    if (moved && !Double.isNaN(whiteDps[0])) {
      look(last, block, whiteDps);
    }
    last = block;
  }

  private void look(BiasBlock before, BiasBlock after, double[] whiteDps) {
    boolean atZero = true;
    boolean farBefore = false;
    for (int i = 0; i < 3; i++) {
      double zero = 0.002 + 4 * whiteDps[i] / Math.sqrt(ZEROING_S);
      atZero &= Math.abs(after.biasDps()[i]) < zero;
      farBefore |= Math.abs(before.biasDps()[i]) > POSE_DPS + zero;
    }
    if (!atZero) {
      returned = 0;
    } else if (farBefore) {
      returned++;
    }
  }

  boolean shown() {
    return returned >= ENOUGH;
  }
}

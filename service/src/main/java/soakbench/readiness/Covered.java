package soakbench.readiness;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import soakbench.thermal.cooling.CoolingFinding;
import soakbench.thermal.cooling.CoolingSecond;

/**
 * What is heard of a tracker in the minutes after a cooling was recorded: covered again, its chip
 * warms as fast as it cooled, and the bias follows in the same way. Until it is moved, because a
 * touch may change the offset, or is not heard for a while. Not thread-safe.
 */
final class Covered implements Serializable {
  /** A chip is back in this time, s. */
  private static final double LONG_S = 120;

  private static final double LONGEST_GAP_S = 5;

  private final CoolingFinding finding;
  private final List<CoolingSecond> seconds = new ArrayList<>();
  private final double fromS;
  private double lastS;
  private boolean over;

  Covered(CoolingFinding finding) {
    this.finding = finding;
    this.fromS = finding.cooling().startS() + finding.cooling().lengthS();
    this.lastS = fromS;
    finding.after().forEach(this::accept);
  }

  /**
   * Takes the next second.
   *
   * @return whether it goes on
   */
  boolean accept(CoolingSecond second) {
    over |= second.moved() || second.tS() - lastS > LONGEST_GAP_S || second.tS() - fromS > LONG_S;
    if (!over) {
      seconds.add(second);
      lastS = second.tS();
    }
    return !over;
  }

  CoolingFinding finding() {
    return finding;
  }

  List<CoolingSecond> seconds() {
    return Collections.unmodifiableList(seconds);
  }
}

package soakbench.thermal;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.model.TauPrior;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

/**
 * The stretch since the last break that the tail is read from, and what was read. Not thread-safe.
 */
final class TailStretch implements Serializable {
  /** Fewest blocks that the tail is read from. */
  static final int LEAST_BLOCKS = 6;

  /**
   * Before a unit has shown its own: bodies in a box of this size take some minutes (common
   * practice, no source).
   */
  static final TauPrior BODY = TauPrior.general(800, 0.6);

  /** Time constants that are tried, s. */
  static final double[] GRID_S = ExponentialFit.logGrid(100, 6400, 25);

  final BlockSeries blocks;
  private final List<Double> breaksS = new ArrayList<>();
  private int first;
  private RelaxationPosterior tail;

  TailStretch(BlockSeries blocks) {
    this.blocks = blocks;
  }

  /** Its first block. */
  int first() {
    return first;
  }

  /** Begins at another block; the model may still hold. */
  void beginAt(int block) {
    first = block;
  }

  /** What was read; null while nothing is. */
  RelaxationPosterior tail() {
    return tail;
  }

  void read(RelaxationPosterior law) {
    tail = law;
  }

  /** Whether there is a model that the next block can be held against. */
  boolean followed() {
    return tail != null && blocks.size() > first;
  }

  /** Notes a break. */
  void breakAt(double atS) {
    breaksS.add(atS);
  }

  List<Double> breaksS() {
    return breaksS;
  }

  /** Drops the chip's own warming and what is older than the window. */
  void trim() {
    int newest = blocks.size() - 1;
    while (first < newest
        && (blocks.timeS(first) < TailSpans.CHIP_S
            || blocks.timeS(newest) - blocks.timeS(first) > TailSpans.WINDOW_S)) {
      first++;
    }
  }

  boolean longEnough() {
    return blocks.size() - first >= LEAST_BLOCKS;
  }

  /** Time of the newest block; NaN before the first. */
  double newestS() {
    return blocks.size() == 0 ? Double.NaN : blocks.timeS(blocks.size() - 1);
  }

  double spanS() {
    return blocks.size() <= first ? 0 : newestS() - blocks.timeS(first);
  }

  /** What the model says of a block to come, degC; only while there is a model. */
  Measured expected(double tS) {
    Measured present = tail.mixture().present();
    Measured change = tail.mixture().change(tS - newestS());
    return new Measured(present.value() + change.value(), Math.hypot(present.se(), change.se()));
  }

  /** By how much a block may miss what is expected of it, one standard deviation, degC. */
  double scaleC(Measured expected) {
    return Math.max(Math.hypot(tail.residualSd(), expected.se()), BreakDetector.LEAST_SD_C);
  }
}

package soakbench.thermal;

import java.io.Serializable;
import java.util.ArrayDeque;
import java.util.Deque;
import soakbench.numerics.Measured;

/**
 * What a coarse thermometer's model foretold two minutes ago, held against what it reads now. A lid
 * shows itself there as a step that stays away: a model is always found that bends just enough for
 * that, so the model of the moment never tells. Not thread-safe.
 */
final class StepForecasts implements Serializable {
  /** How far ahead is looked, s. */
  static final double AHEAD_S = 120;

  private static final double DEVIATIONS = 2;

  /** What a step's own edge may be off, in steps. */
  private static final double EDGE = 0.15;

  private record Due(double atS, double expectedC, double sdC) implements Serializable {}

  private final Deque<Due> pending = new ArrayDeque<>();

  /** Remembers what is expected at {@link #AHEAD_S} after {@code tS}. */
  void add(double tS, Measured present, Measured change) {
    double expected = present.value() + change.value();
    pending.addLast(new Due(tS + AHEAD_S, expected, Math.hypot(present.se(), change.se())));
  }

  /** Whether what was expected of this moment can't be what is read. */
  boolean missed(double tS, StepInterval read, double stepC) {
    boolean missed = false;
    while (!pending.isEmpty() && pending.peekFirst().atS() <= tS) {
      Due due = pending.pollFirst();
      double miss = Math.abs(read.missC(due.expectedC()));
      missed |= tS - due.atS() < TailSpans.BLOCK_S && miss > DEVIATIONS * due.sdC() + EDGE * stepC;
    }
    return missed;
  }

  /** The model that was followed so far holds no more. */
  void clear() {
    pending.clear();
  }
}

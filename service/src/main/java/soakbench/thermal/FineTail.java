package soakbench.thermal;

import java.io.Serializable;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

/** Reads the tail where the thermometer's readings are values. */
final class FineTail implements Serializable, TailReading {
  private final TailStretch stretch;
  private final ThermometerStep step;
  private final BreakDetector breakWatch;

  FineTail(TailStretch stretch, ThermometerStep step, BreakDetector breakWatch) {
    this.stretch = stretch;
    this.step = step;
    this.breakWatch = breakWatch;
  }

  @Override
  public int brokenBlocks(double tS, double temperatureC) {
    Measured expected = stretch.expected(tS);
    return breakWatch.accept(
        temperatureC - expected.value(), stretch.scaleC(expected), step.blindC() / 2);
  }

  @Override
  public void added(double tS, double temperatureC) {
    // A value raises no doubt that the model's break would not.
  }

  @Override
  public void refit() {
    double[] t = stretch.blocks.timesFrom(stretch.first());
    double[] y = stretch.blocks.temperaturesFrom(stretch.first());
    double floor = Math.max(0.001, step.blindC() / Math.sqrt(12));
    stretch.read(RelaxationPosterior.of(t, y, TailStretch.GRID_S, TailStretch.BODY, floor));
  }

  @Override
  public void broke() {
    // Nothing is kept from block to block.
  }
}

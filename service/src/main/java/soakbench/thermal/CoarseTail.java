package soakbench.thermal;

import java.io.Serializable;
import java.util.Optional;
import soakbench.numerics.CensoredRelaxation;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

/** Reads the tail where a thermometer's reading is an interval, not a value. Not thread-safe. */
final class CoarseTail implements Serializable, TailReading {
  /** By how much the intervals are widened at first, in steps. */
  private static final double MARGIN = 0.04;

  /** A break of the model as recent as this is no slow drift, s. */
  private static final double RECENT_BREAK_S = 400;

  private final TailStretch stretch;
  private final ThermometerStep step;
  private final BreakDetector breakWatch;
  private final StepForecasts foretold = new StepForecasts();
  private final LevelTurns turns = new LevelTurns();

  CoarseTail(TailStretch stretch, ThermometerStep step, BreakDetector breakWatch) {
    this.stretch = stretch;
    this.step = step;
    this.breakWatch = breakWatch;
  }

  @Override
  public int brokenBlocks(double tS, double temperatureC) {
    Measured expected = stretch.expected(tS);
    StepInterval read = interval(temperatureC);
    int back = breakWatch.accept(-read.missC(expected.value()), stretch.scaleC(expected), 0);
    boolean missed = foretold.missed(tS, read, step.blindC());
    return missed ? Math.max(back, TailStretch.LEAST_BLOCKS) : back;
  }

  @Override
  public void added(double tS, double temperatureC) {
    if (turns.turned(temperatureC, step.blindC(), step.levelC())) {
      stretch.beginAt(stretch.blocks.size() - 1);
      stretch.breakAt(tS);
    }
  }

  /**
   * Where no model passes through all intervals something broke: the longest newest stretch that
   * one model passes through is kept.
   */
  @Override
  public void refit() {
    double nowS = stretch.newestS();
    Optional<RelaxationPosterior> found = censored(stretch.first());
    if (found.isEmpty()) {
      stretch.beginAt(
          firstOfOneLaw(stretch.first(), stretch.blocks.size() - TailStretch.LEAST_BLOCKS));
      found = censored(stretch.first());
      double brokeS = stretch.blocks.timeS(stretch.first());
      if (nowS - brokeS < RECENT_BREAK_S) {
        stretch.breakAt(brokeS);
      }
    }
    stretch.read(found.orElse(null));
    found
        .map(RelaxationPosterior::mixture)
        .ifPresent(m -> foretold.add(nowS, m.present(), m.change(StepForecasts.AHEAD_S)));
  }

  /**
   * First block of the longest newest stretch that one model passes through; a part of such a
   * stretch is one too.
   */
  private int firstOfOneLaw(int broken, int latest) {
    int low = broken;
    int high = latest;
    while (high - low > 1) {
      int middle = (low + high) / 2;
      if (censored(middle).isPresent()) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return high;
  }

  private Optional<RelaxationPosterior> censored(int first) {
    double[] t = stretch.blocks.timesFrom(first);
    double[] y = stretch.blocks.temperaturesFrom(first);
    double[] low = new double[y.length];
    double[] high = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      StepInterval in = interval(y[i]);
      low[i] = in.lowC();
      high[i] = in.highC();
    }
    double margin = MARGIN * step.blindC();
    return CensoredRelaxation.of(t, low, high, TailStretch.GRID_S, TailStretch.BODY, margin);
  }

  private StepInterval interval(double meanC) {
    RelaxationPosterior tail = stretch.tail();
    double slope = tail == null ? 0.5 / 60 : tail.mixture().slope().value();
    return StepInterval.of(meanC, step.blindC(), step.levelC(), slope * TailSpans.BLOCK_S);
  }

  @Override
  public void broke() {
    foretold.clear();
  }
}

package soakbench.thermal;

import java.util.Optional;
import soakbench.numerics.CensoredRelaxation;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

/**
 * Reads the tail where a thermometer's reading is an interval, not a value, and holds in doubt what
 * its steps may hide: a law always bends a little to pass through all of them. Not thread-safe.
 */
final class CoarseTail implements TailReading {
  /** By how much the intervals are widened at first, in steps. */
  private static final double MARGIN = 0.04;

  /** A break of the law as recent as this is no slow wander, s. */
  private static final double RECENT_BREAK_S = 400;

  /** A law with hardly any room breaks within this time, or is right, s. */
  private static final double LONGEST_SURE_S = 240;

  /** More than this, a slope changes within a block only where something broke, degC/s. */
  private static final double WANDER_JUMP_C_PER_S = 0.012 / 60;

  /** So long after its break the law is held in doubt, besides the hold, s. */
  private static final double DOUBT_S = 200;

  private final TailStretch stretch;
  private final ThermometerStep step;
  private final BreakDetector breakWatch;
  private final StepForecasts foretold = new StepForecasts();
  private final LevelTurns turns = new LevelTurns();
  private double sureFromS = Double.NaN;

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
      stretch.breakAt(tS, tS);
    }
    if (justBroken(tS)) {
      stretch.hold(tS);
    }
  }

  /**
   * Whether the law broke so lately that the readings may not have left one step since: a slope of
   * some tenths of a degree a minute would still be hidden there.
   */
  private boolean justBroken(double tS) {
    var breaksS = stretch.breaksS();
    return !breaksS.isEmpty() && tS - breaksS.get(breaksS.size() - 1) < DOUBT_S;
  }

  /**
   * Where no law passes through all intervals something broke: the longest newest stretch that one
   * law passes through is kept.
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
        stretch.breakAt(brokeS, nowS);
      } else if (jumped(found)) {
        stretch.hold(nowS);
      }
    }
    stretch.read(found.orElse(null));
    doubtTooSure(nowS);
    found.ifPresent(law -> foretold.add(nowS, law.present(), law.change(StepForecasts.AHEAD_S)));
  }

  private void doubtTooSure(double nowS) {
    boolean sure = stretch.tail() != null && tooSure(stretch.tail());
    sureFromS = !sure ? Double.NaN : Double.isNaN(sureFromS) ? nowS : sureFromS;
    if (nowS - sureFromS < LONGEST_SURE_S) {
      stretch.hold(nowS);
    }
  }

  /** Whether the slope is another by more than a slow wander makes it from block to block. */
  private boolean jumped(Optional<RelaxationPosterior> other) {
    return stretch.tail() != null
        && other.isPresent()
        && Math.abs(other.get().slopeAfter(0).value() - stretch.tail().slopeAfter(0).value())
            > WANDER_JUMP_C_PER_S;
  }

  /**
   * Whether the laws that pass are so few that there are nearly none: a law about to break, not one
   * known well. What the intervals are widened by leaves more of the slope open than that.
   */
  private boolean tooSure(RelaxationPosterior law) {
    double open = MARGIN * step.blindC() / (stretch.spanS() / 2);
    return law.slopeAfter(0).se() < open / 4;
  }

  /**
   * First block of the longest newest stretch that one law passes through; a part of such a stretch
   * is one too.
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
    double slope = tail == null ? 0.5 / 60 : tail.slopeAfter(0).value();
    return StepInterval.of(meanC, step.blindC(), step.levelC(), slope * TailSpans.BLOCK_S);
  }

  @Override
  public void broke() {
    foretold.clear();
  }
}

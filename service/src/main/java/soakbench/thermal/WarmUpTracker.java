package soakbench.thermal;

import java.io.Serializable;
import java.util.List;
import java.util.Optional;
import soakbench.numerics.RelaxationMixture;
import soakbench.numerics.RelaxationPosterior;

/**
 * Follows one soak's temperature second by second: ten-second blocks, breaks, and what the stretch
 * since the last break says of the warm-up: the fit window, here called tail. Times are seconds
 * since the soak began. Fed in order; not thread-safe. The same seconds always give the same
 * answers.
 *
 * <p>The chip's own time constant (15 to 45 s) is over after {@link TailSpans#CHIP_S}; until then
 * only the local slope is known.
 */
public final class WarmUpTracker implements Serializable {
  private static final int SLOPE_BINS = 60;

  private final TemperatureHistory history = new TemperatureHistory();
  private final BlockSeries blocks = history.blocks;
  private final TailStretch stretch = new TailStretch(blocks);
  private final RecentBins recent = new RecentBins(2 * SLOPE_BINS);
  private final ThermometerStep step = new ThermometerStep();
  private final TailReading fine;
  private final TailReading coarse;
  private double openBlock = Double.NaN;
  private double sumT;
  private double sumC;
  private int open;
  private transient Optional<Slope> minuteSlope;

  public WarmUpTracker() {
    BreakDetector breakWatch = new BreakDetector();
    this.fine = new FineTail(stretch, step, breakWatch);
    this.coarse = new CoarseTail(stretch, step, breakWatch);
  }

  /**
   * Takes one second.
   *
   * @param tS middle of the second
   * @param temperatureC mean of the temperatures measured in it, degC
   * @param sdC their standard deviation, degC, or NaN
   * @param stepC smallest step seen in it, degC, or NaN
   */
  public void accept(double tS, double temperatureC, double sdC, double stepC) {
    step.accept(temperatureC, sdC, stepC);
    recent.add(tS, temperatureC);
    minuteSlope = null;
    history.second(tS, temperatureC);
    double block = Math.floor(tS / TailSpans.BLOCK_S);
    if (block != openBlock) {
      closeBlock();
      openBlock = block;
    }
    sumT += tS;
    sumC += temperatureC;
    open++;
  }

  private void closeBlock() {
    if (open >= 2 || open == 1 && recent.sparse()) {
      addBlock(sumT / open, sumC / open);
    }
    sumT = 0;
    sumC = 0;
    open = 0;
  }

  private void addBlock(double tS, double temperatureC) {
    TailReading reading = step.coarse() ? coarse : fine;
    if (stretch.followed()) {
      watchForBreak(reading, tS, temperatureC);
    }
    blocks.add(tS, temperatureC);
    reading.added(tS, temperatureC);
    stretch.trim();
    if (stretch.longEnough()) {
      reading.refit();
    } else {
      stretch.read(null);
    }
  }

  private void watchForBreak(TailReading reading, double tS, double temperatureC) {
    int back = reading.brokenBlocks(tS, temperatureC);
    if (back > 0) {
      fine.broke();
      coarse.broke();
      stretch.beginAt(blocks.size() - back + 1);
      stretch.breakAt(tS - back * TailSpans.BLOCK_S);
      stretch.read(null);
    }
  }

  /**
   * What the stretch since the last break says; empty until it is long enough. As of {@link
   * #tailS()}.
   */
  public Optional<RelaxationMixture> tail() {
    return Optional.ofNullable(stretch.tail()).map(RelaxationPosterior::mixture);
  }

  /** The same with what it rests on. */
  Optional<RelaxationPosterior> tailFit() {
    return Optional.ofNullable(stretch.tail());
  }

  /** Time of the newest block, to which {@link #tail()} refers. */
  public double tailS() {
    return stretch.newestS();
  }

  /** Length of the stretch that the tail is read from, s. */
  public double tailSpanS() {
    return stretch.spanS();
  }

  /** Slope of the last minute; empty while there are fewer than three readings. */
  public Optional<Slope> minuteSlope() {
    if (minuteSlope == null) {
      minuteSlope = Optional.ofNullable(recent.slope(0, SLOPE_BINS));
    }
    return minuteSlope;
  }

  public List<Double> breaksS() {
    return List.copyOf(stretch.breaksS());
  }

  /** All that was seen: by the second at first, then by the block. */
  Temperatures temperatures() {
    return history.all();
  }

  /** Times of the blocks since the last break, s, without the chip's own warming. */
  double[] newestStretchS() {
    double lastS = TailSpans.CHIP_S;
    for (double breakS : stretch.breaksS()) {
      lastS = breakS > TailSpans.CHIP_S ? breakS : lastS;
    }
    return history.blockTimesS(lastS);
  }

  /** The thermometer's step where its noise does not carry it over, else 0, degC. */
  public double blindC() {
    return step.blindC();
  }

  /** By how much the thermometer's step may shift a level that it keeps to, degC. */
  double hiddenLevelC() {
    return step.hiddenLevelC();
  }

  /** Closes the block that is being filled; for figures of a soak that has ended. */
  void finish() {
    closeBlock();
  }
}

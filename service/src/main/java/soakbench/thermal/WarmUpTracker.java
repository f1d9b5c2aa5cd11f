package soakbench.thermal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import soakbench.numerics.CensoredRelaxation;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.RelaxationPosterior;
import soakbench.numerics.RelaxationPosterior.TauPrior;

/**
 * Follows one soak's temperature second by second: ten-second blocks, breaks, and what the stretch
 * since the last break says of the warm-up's tail. Times are seconds since the soak began. Fed in
 * order; not thread-safe. The same seconds always give the same answers.
 *
 * <p>The chip's own time constant (15 to 45 s) is over after {@link #CHIP_S}; until then only the
 * local slope is known.
 */
public final class WarmUpTracker {
  /** Length of a block, s. */
  public static final double BLOCK_S = 10;

  /** How long the chip's own warming is left out of the tail, s. */
  public static final double CHIP_S = 150;

  /** Longest stretch that the tail is read from, s. */
  public static final double WINDOW_S = 1200;

  /** So long every second is kept, for the chip's own constant, s; a multiple of a block. */
  private static final double EARLY_S = 600;

  private static final int LEAST_BLOCKS = 6;
  private static final int SLOPE_BINS = 60;

  /** By how much a coarse thermometer's intervals are widened at first, in steps. */
  private static final double COARSE_MARGIN = 0.04;

  /** A break of a coarse thermometer's law as recent as this is no slow wander, s. */
  private static final double RECENT_BREAK_S = 400;

  /**
   * Before a unit has shown its own: bodies in a box of this size take some minutes (common
   * practice, no source).
   */
  private static final TauPrior BODY = new TauPrior(800, 0.6);

  /** A law with hardly any room breaks within this time, or is right, s. */
  private static final double LONGEST_SURE_S = 240;

  /** More than this, a slope changes within a block only where something broke, degC/s. */
  private static final double WANDER_JUMP_C_PER_S = 0.012 / 60;

  /** So long after its break a coarse thermometer's law is held in doubt, besides the hold, s. */
  private static final double COARSE_DOUBT_S = 200;

  private static final double[] GRID_S = ExponentialFit.logGrid(100, 6400, 25);

  private final BlockSeries blocks = new BlockSeries();
  private final BlockSeries early = new BlockSeries();
  private final List<Double> breaksS = new ArrayList<>();
  private final RecentBins recent = new RecentBins(2 * SLOPE_BINS);
  private final ThermometerStep step = new ThermometerStep();
  private final BreakWatch breakWatch = new BreakWatch();
  private final RoomFilter room;
  private final TauPrior earlier;
  private final SecondNoise secondNoise = new SecondNoise();
  private final StepForecasts foretold = new StepForecasts();
  private final LevelTurns turns = new LevelTurns();
  private int windowStart;
  private double openBlock = Double.NaN;
  private double sumT;
  private double sumC;
  private int open;
  private RelaxationPosterior tail;
  private double sureFromS = Double.NaN;
  private double holdFromS = Double.NEGATIVE_INFINITY;

  public WarmUpTracker() {
    this(null);
  }

  /**
   * @param earlier what earlier soaks on the same rack say of the time constant, or null; only
   *     {@link #outlook} heeds it, so that the verdict does not depend on other soaks
   */
  public WarmUpTracker(TauPrior earlier) {
    this.room = new RoomFilter(earlier);
    this.earlier = earlier;
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
    secondNoise.accept(temperatureC);
    recent.add(tS, temperatureC);
    if (tS < EARLY_S) {
      early.add(tS, temperatureC);
    }
    double block = Math.floor(tS / BLOCK_S);
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
    if (tail != null && blocks.size() > windowStart) {
      watchForBreak(tS, temperatureC);
    }
    blocks.add(tS, temperatureC);
    double noise = secondNoise.sdC() / Math.sqrt(Math.max(1, open));
    room.accept(tS, temperatureC, Math.max(noise, step.blindC() / Math.sqrt(12)));
    if (step.coarse() && turns.turned(temperatureC, step.blindC(), step.levelC())) {
      windowStart = blocks.size() - 1;
      breaksS.add(tS);
      holdFromS = tS;
    }
    if (turned() || step.coarse() && justBroken(tS)) {
      holdFromS = tS;
    }
    refit();
    if (tail != null && step.coarse()) {
      foretold.add(tS, tail.present(), tail.change(StepForecasts.AHEAD_S));
    }
  }

  /**
   * Whether the law of a coarse thermometer broke so lately that its readings may not have left one
   * step since: a slope of some tenths of a degree a minute would still be hidden there.
   */
  private boolean justBroken(double tS) {
    return !breaksS.isEmpty() && tS - breaksS.get(breaksS.size() - 1) < COARSE_DOUBT_S;
  }

  private void watchForBreak(double tS, double temperatureC) {
    double ahead = tS - blocks.timeS(blocks.size() - 1);
    RelaxationPosterior.Moments present = tail.present();
    RelaxationPosterior.Moments change = tail.change(ahead);
    double expected = present.mean() + change.mean();
    double error =
        step.coarse() ? -interval(temperatureC).missC(expected) : temperatureC - expected;
    double forecast = Math.hypot(present.sd(), change.sd());
    double scale = Math.max(Math.hypot(tail.residualSd(), forecast), BreakWatch.LEAST_SD_C);
    double blind = step.coarse() ? 0 : step.blindC() / 2;
    int back = breakWatch.accept(error, scale, blind);
    if (step.coarse() && foretold.missed(tS, interval(temperatureC), step.blindC())) {
      back = Math.max(back, LEAST_BLOCKS);
    }
    if (back > 0) {
      foretold.clear();
      windowStart = blocks.size() - back + 1;
      breaksS.add(tS - back * BLOCK_S);
      holdFromS = tS;
      tail = null;
    }
  }

  private void refit() {
    int newest = blocks.size() - 1;
    while (windowStart < newest
        && (blocks.timeS(windowStart) < CHIP_S
            || blocks.timeS(newest) - blocks.timeS(windowStart) > WINDOW_S)) {
      windowStart++;
    }
    if (blocks.size() - windowStart < LEAST_BLOCKS) {
      tail = null;
      return;
    }
    if (step.coarse()) {
      refitCoarse(newest);
      return;
    }
    tail = fitted();
  }

  private RelaxationPosterior fitted() {
    double[] t = blocks.timesFrom(windowStart);
    double[] y = blocks.temperaturesFrom(windowStart);
    double floor = Math.max(0.001, step.blindC() / Math.sqrt(12));
    return RelaxationPosterior.of(t, y, GRID_S, BODY, floor);
  }

  /**
   * A coarse thermometer's reading is an interval, not a value. Where no law passes through all of
   * them something broke: the longest newest stretch that one law passes through is kept.
   */
  private void refitCoarse(int newest) {
    Optional<RelaxationPosterior> found = censored(windowStart);
    if (found.isEmpty()) {
      windowStart = firstOfOneLaw(windowStart, newest + 1 - LEAST_BLOCKS);
      found = censored(windowStart);
      double brokeS = blocks.timeS(windowStart);
      if (blocks.timeS(newest) - brokeS < RECENT_BREAK_S) {
        breaksS.add(brokeS);
        holdFromS = blocks.timeS(newest);
      } else if (jumped(found)) {
        holdFromS = blocks.timeS(newest);
      }
    }
    tail = found.orElse(null);
    boolean sure = tail != null && tooSure(tail);
    sureFromS = !sure ? Double.NaN : Double.isNaN(sureFromS) ? blocks.timeS(newest) : sureFromS;
    if (blocks.timeS(newest) - sureFromS < LONGEST_SURE_S) {
      holdFromS = blocks.timeS(newest);
    }
  }

  /** Whether the slope is another by more than a slow wander makes it from block to block. */
  private boolean jumped(Optional<RelaxationPosterior> other) {
    return tail != null
        && other.isPresent()
        && Math.abs(other.get().slopeAfter(0).mean() - tail.slopeAfter(0).mean())
            > WANDER_JUMP_C_PER_S;
  }

  /**
   * Whether the laws that pass are so few that there are nearly none: a law about to break, not one
   * known well. What the intervals are widened by leaves more of the slope open than that.
   */
  private boolean tooSure(RelaxationPosterior coarse) {
    double open = COARSE_MARGIN * step.blindC() / (tailSpanS() / 2);
    return coarse.slopeAfter(0).sd() < open / 4;
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
    double[] t = blocks.timesFrom(first);
    double[] y = blocks.temperaturesFrom(first);
    double[] low = new double[y.length];
    double[] high = new double[y.length];
    for (int i = 0; i < y.length; i++) {
      StepInterval in = interval(y[i]);
      low[i] = in.lowC();
      high[i] = in.highC();
    }
    double margin = COARSE_MARGIN * step.blindC();
    return CensoredRelaxation.of(t, low, high, GRID_S, BODY, margin);
  }

  private StepInterval interval(double meanC) {
    double slope = tail == null ? 0.5 / 60 : tail.slopeAfter(0).mean();
    return StepInterval.of(meanC, step.blindC(), step.levelC(), slope * BLOCK_S);
  }

  /**
   * Whether the last minute's slope is steeper than the minute's before it, or of the other sign.
   */
  private boolean turned() {
    Slope now = recent.slope(0, SLOPE_BINS);
    Slope before = recent.slope(SLOPE_BINS, SLOPE_BINS);
    if (now == null || before == null || step.hidesMinutes()) {
      return false;
    }
    double noise = 4 * Math.hypot(now.seCPerS(), before.seCPerS()) + 0.015 / 60;
    boolean grew = Math.abs(now.cPerS()) - Math.abs(before.cPerS()) > noise;
    boolean crossed =
        now.cPerS() * before.cPerS() < 0 && Math.abs(now.cPerS() - before.cPerS()) > 2 * noise;
    return grew || crossed;
  }

  /**
   * What the stretch since the last break says; empty until it is long enough. As of {@link
   * #tailS()}.
   */
  public Optional<RelaxationPosterior> tail() {
    return Optional.ofNullable(tail);
  }

  /** Time of the newest block, to which {@link #tail()} refers. */
  public double tailS() {
    return blocks.size() == 0 ? Double.NaN : blocks.timeS(blocks.size() - 1);
  }

  /** Length of the stretch that the tail is read from, s. */
  public double tailSpanS() {
    return blocks.size() <= windowStart
        ? 0
        : blocks.timeS(blocks.size() - 1) - blocks.timeS(windowStart);
  }

  /** Slope of the last minute; empty while there are fewer than three readings. */
  public Optional<Slope> minuteSlope() {
    return Optional.ofNullable(recent.slope(0, SLOPE_BINS));
  }

  /**
   * What the thermometer's step hides of a slope over the tail's span, degC/s: up to 1.5 steps,
   * nothing where its own noise carries it over the steps.
   */
  public double hiddenSlopeCPerS() {
    double span = tailSpanS();
    return step.blindC() == 0 || step.coarse() && tail != null
        ? 0
        : 1.5 * step.blindC() / Math.max(span, BLOCK_S);
  }

  /** When the rate last grew, changed sign or broke; minus infinity if never. */
  public double turnedAtS() {
    return holdFromS;
  }

  /**
   * What is known of body and room.
   *
   * @param ageS how long ago the newest block was, s
   */
  public RoomOutlook outlook(double ageS) {
    return step.coarse() && tail != null
        ? RoomOutlook.of(tail, ageS, BODY, earlier)
        : room.outlook();
  }

  public List<Double> breaksS() {
    return List.copyOf(breaksS);
  }

  /** All that was seen: by the second at first, then by the block. */
  Temperatures temperatures() {
    double[] t = early.timesFrom(0);
    double[] c = early.temperaturesFrom(0);
    int seconds = t.length;
    int first = 0;
    while (first < blocks.size() && blocks.timeS(first) < EARLY_S) {
      first++;
    }
    int n = seconds + blocks.size() - first;
    t = Arrays.copyOf(t, n);
    c = Arrays.copyOf(c, n);
    double[] of = new double[n];
    Arrays.fill(of, 0, seconds, 1);
    for (int i = seconds; i < n; i++) {
      t[i] = blocks.timeS(first + i - seconds);
      c[i] = blocks.temperatureC(first + i - seconds);
      of[i] = BLOCK_S;
    }
    return new Temperatures(t, c, of);
  }

  /** Times and temperatures of all blocks between two breaks, newest stretch first. */
  List<double[][]> stretches() {
    List<Double> edges = new ArrayList<>(List.of(CHIP_S));
    breaksS.stream().filter(b -> b > CHIP_S).forEach(edges::add);
    edges.add(Double.POSITIVE_INFINITY);
    List<double[][]> out = new ArrayList<>();
    for (int k = edges.size() - 2; k >= 0; k--) {
      out.add(between(edges.get(k), edges.get(k + 1)));
    }
    return out;
  }

  private double[][] between(double fromS, double toS) {
    double[] t = blocks.timesFrom(0);
    double[] y = blocks.temperaturesFrom(0);
    int[] in = IntStream.range(0, t.length).filter(i -> t[i] >= fromS && t[i] < toS).toArray();
    return new double[][] {
      IntStream.of(in).mapToDouble(i -> t[i]).toArray(),
      IntStream.of(in).mapToDouble(i -> y[i]).toArray()
    };
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

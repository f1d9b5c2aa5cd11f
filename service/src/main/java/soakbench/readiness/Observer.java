package soakbench.readiness;

import java.io.Serializable;
import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.drift.correction.InsideCorrection;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.Stillness;
import soakbench.model.Axes;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Evidence.Bias;
import soakbench.readiness.Evidence.Lines;
import soakbench.readiness.Evidence.Temperature;
import soakbench.readiness.estimator.Answer;
import soakbench.readiness.estimator.Doubts;
import soakbench.readiness.estimator.Estimator;
import soakbench.readiness.estimator.TostInterval;
import soakbench.thermal.Slope;
import soakbench.thermal.WarmUpAnalysis;
import soakbench.thermal.WarmUpCurve;
import soakbench.thermal.WarmUpTracker;

/**
 * Gathers the evidence of one soak second by second. Not thread-safe; the same bins always give the
 * same evidence.
 */
final class Observer implements Serializable {
  private static final double GAP_WINDOW_S = 60;
  private static final String NO_BLOCK = "ten seconds of lying still are needed first";

  private final Limits limits;
  private final double quantile;
  private final WarmUpTracker warmUp = new WarmUpTracker();
  private final Stillness stillness = new Stillness();
  private final BiasBlocks blocks = new BiasBlocks();
  private final InsideCorrection inside = new InsideCorrection();
  private final BiasKnowledge bias = new BiasKnowledge();
  private final Estimator estimator;
  private final Unwrapping unwrapping;
  private final HeatJudge heat;
  private final HeadingForHot heading;
  private double headingS;
  private long startSecond = Long.MIN_VALUE;
  private final LineSpacing spacing = new LineSpacing();
  private long firstUs;
  private long lastUs;
  private double temperatureC = Double.NaN;
  private final HeldTemperature held = new HeldTemperature();
  private double[] stillBias;
  private double movedS = Double.NEGATIVE_INFINITY;
  private double gapS;
  private double gapEndS = Double.NEGATIVE_INFINITY;
  private boolean tooSlow;
  private boolean rates;
  private String endlessTurn;
  private Rates declared = Rates.UNKNOWN;
  private Answer estimated;

  Observer(SoakTerms terms) {
    this.limits = terms.limits();
    this.estimator = new Estimator(terms.limits(), terms.tauPrior());
    this.quantile = new NormalDistribution().inverseCumulativeProbability(1 - limits.alpha());
    this.heat = new HeatJudge(limits);
    this.heading = new HeadingForHot(limits);
    this.unwrapping = new Unwrapping(limits);
  }

  void declared(Rates rates) {
    declared = rates;
  }

  /**
   * Takes the next second.
   *
   * @param wild whether its temperature is off both neighbours and so not to be believed
   */
  void accept(Bin bin, boolean wild) {
    if (startSecond == Long.MIN_VALUE) {
      startSecond = bin.second();
      firstUs = bin.firstUs();
      lastUs = bin.firstUs();
    }
    double tS = bin.second() - startSecond + 0.5;
    watchGaps(bin, tS);
    Channel c = bin.temperatureC();
    if (c.count() > 0 && !wild) {
      warmUp.accept(tS, c.mean(), c.sd(), bin.temperatureStepC());
      temperatureC = c.mean();
      held.measured(tS);
      Double rise = warmUp.minuteSlope().map(Slope::cPerMin).orElse(null);
      heat.accept(tS, c.mean(), c.count(), rise);
    }
    Stillness.Answer answer = watchMotion(bin, tS);
    if (c.count() > 0 && !wild) {
      unwrapping.accept(bin, tS, answer, warmUp.blindC(), models());
    }
    if (!Double.isNaN(temperatureC)) {
      bias.update(blocks, temperatureC);
    }
    estimated = estimator.add(bin, answer, doubts(wild, tS));
  }

  private Doubts doubts(boolean wild, double tS) {
    boolean hidden = inside.finding().reason(declared) != null || !stillness.deadAxes().isEmpty();
    boolean barred = hidden || lost(tS) || heat.hot() || heading.heading() || farFromUse();
    return new Doubts(wild, barred, mayBeFollowed() ? BiasKnowledge.PRIOR.slopeSd() : 0);
  }

  private boolean lost(double tS) {
    return held.lost(tS);
  }

  private boolean farFromUse() {
    Double limit = limits.nearUseLimitDegPerMin();
    // Not known is not near.
    return limit != null && !(nearUse(models(), temperatureC) <= limit);
  }

  private void watchGaps(Bin bin, double tS) {
    double gap = (bin.firstUs() - lastUs) / 1e6;
    if (gap > limits.gapLimitS()) {
      gapS = gap;
      gapEndS = tS;
    }
    spacing.heard((bin.firstUs() - firstUs) / 1e6, gap);
    firstUs = bin.firstUs();
    lastUs = bin.lastUs();
  }

  private Stillness.Answer watchMotion(Bin bin, double tS) {
    Stillness.Answer answer = stillness.accept(bin);
    blocks.accept(bin, tS, answer);
    inside.accept(bin, tS, answer, blocks);
    endlessTurn = endlessTurn(bin);
    tooSlow = answer == Stillness.Answer.TOO_SLOW;
    rates |= answer != Stillness.Answer.NO_RATES;
    if (answer == Stillness.Answer.MOVED || answer == Stillness.Answer.NEW_LEVEL) {
      movedS = tS;
    } else if (answer == Stillness.Answer.STILL) {
      stillBias = bin.biasDps();
    }
    return answer;
  }

  private BiasModel[] models() {
    return bias.known() ? new BiasModel[] {bias.axis(0), bias.axis(1), bias.axis(2)} : null;
  }

  Unwrapping unwrapping() {
    return unwrapping;
  }

  /** The warm-up curve of all seconds so far. */
  WarmUpCurve warmUp() {
    return WarmUpAnalysis.of(warmUp, startSecond);
  }

  private String endlessTurn(Bin bin) {
    int axis = stillness.endlessAxis();
    if (axis < 0 || bin.rateCount() == 0) {
      return null;
    }
    String rate = NumberWords.number(bin.biasDps()[axis], 0);
    return "its " + Axes.NAMES.get(axis) + " axis reads " + rate + " °/s without a rest";
  }

  Evidence evidence(long second) {
    double tS = second - startSecond + 1;
    Temperature temperature = temperature(tS);
    heading.accept(
        tS,
        tS - headingS,
        held.old(tS) ? Double.NaN : temperatureC,
        minuteRate(tS),
        warmUp.tail().filter(t -> !held.old(tS)),
        tS - warmUp.tailS(),
        warmUp.tailSpanS());
    headingS = tS;
    String hidden = inside.finding().reason(declared);
    String shiftReason = shiftReason(hidden);
    BiasModel[] models = hidden == null ? models() : null;
    return new Evidence(
        tS,
        temperature,
        new Bias(
            stillBias,
            models,
            shiftReason == null ? estimated.shifts() : null,
            shiftReason,
            () -> nearUse(models, temperature.nowC())),
        lines(tS, hidden),
        estimated.dwell(),
        estimated.expected(),
        heat(second));
  }

  private Temperature temperature(double tS) {
    Answer.Temperature course = lost(tS) ? null : estimated.temperature();
    double newest = lost(tS) ? Double.NaN : temperatureC;
    return new Temperature(
        course == null ? newest : course.nowC(),
        course == null ? null : course.rateCPerMin(),
        course == null ? rateReason(tS) : null,
        course);
  }

  private Lines lines(double tS, String hidden) {
    double gap = tS - gapEndS < GAP_WINDOW_S ? gapS : 0;
    return new Lines(rates, tooSlow, gap, hidden, endlessTurn, deadGyro(), movedS);
  }

  /** What the last minute shows, with what the thermometer's step may hide of it. */
  private TostInterval minuteRate(double tS) {
    return warmUp
        .minuteSlope()
        .filter(s -> !held.old(tS))
        .map(
            s ->
                TostInterval.about(
                    s.cPerMin(), 60 * quantile * s.seCPerS() + 1.5 * warmUp.blindC()))
        .orElse(null);
  }

  private Heat heat(long second) {
    return heat.hot() ? heat.heat() : heading.heat((second + 1) * 1_000_000L);
  }

  /**
   * Whether a correction inside can't be excluded, so that a small slope of the rates may be the
   * correction's and not the unit's. Then it may be as steep as is believed of any unit.
   */
  private boolean mayBeFollowed() {
    return inside.finding() == InsideCorrection.Finding.UNKNOWN && declared == Rates.UNKNOWN;
  }

  private String rateReason(double tS) {
    if (Double.isInfinite(held.agoS(tS))) {
      return "its lines carry no temperature";
    }
    return lost(tS) ? held.reason(tS) : NO_BLOCK;
  }

  /** Why it can't be said where its bias goes; null where it can. */
  private String shiftReason(String hidden) {
    if (!rates) {
      return "its lines carry no rates";
    }
    String reason = deadGyro() != null ? deadGyro() : hidden;
    if (reason != null) {
      return reason;
    }
    return estimated.shifts() == null ? NO_BLOCK : null;
  }

  private String deadGyro() {
    List<Integer> dead = stillness.deadAxes();
    if (dead.size() == 3) {
      return "its gyro is dead or not printing: all axes read one and the same value";
    }
    return dead.isEmpty()
        ? null
        : "its "
            + Axes.NAMES.get(dead.get(0))
            + " axis reads one and the same value: dead, or too coarse to show drift";
  }

  /** Error of heading at the use temperature, deg/min; NaN where it is not known. */
  private double nearUse(BiasModel[] models, double nowC) {
    if (models == null || Double.isNaN(nowC)) {
      return Double.NaN;
    }
    double worst = 0;
    for (int i = 0; i < 3; i++) {
      double d = models[i].difference(limits.useTemperatureC(), nowC).value();
      worst = Math.max(worst, Math.abs(d));
    }
    return 60 * worst;
  }

  long startSecond() {
    return startSecond;
  }

  long lastUs() {
    return lastUs;
  }

  /** For how long nothing must be heard to call it silent, s. */
  double silentAfterS() {
    return spacing.silentAfterS(limits.heardWithinS());
  }
}

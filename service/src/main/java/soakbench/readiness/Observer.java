package soakbench.readiness;

import java.util.Optional;
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
import soakbench.model.Spans;
import soakbench.model.Tracker.Rates;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;
import soakbench.readiness.Evidence.Bias;
import soakbench.readiness.Evidence.FitWindow;
import soakbench.readiness.Evidence.Lines;
import soakbench.readiness.Evidence.Temperature;
import soakbench.thermal.RoomOutlook;
import soakbench.thermal.Slope;
import soakbench.thermal.WarmUpAnalysis;
import soakbench.thermal.WarmUpCurve;
import soakbench.thermal.WarmUpTracker;

/**
 * Gathers the evidence of one soak second by second. Not thread-safe; the same bins always give the
 * same evidence.
 */
final class Observer {
  private static final double GAP_WINDOW_S = 60;

  /**
   * A temperature older than this is none: the tail may not be carried on for ever without one, s.
   */
  private static final double TEMPERATURE_HOLD_S = 30;

  private final Limits limits;
  private final double quantile;
  private final WarmUpTracker warmUp;
  private final Stillness stillness = new Stillness();
  private final BiasBlocks blocks = new BiasBlocks();
  private final InsideCorrection inside = new InsideCorrection();
  private final BiasKnowledge bias = new BiasKnowledge();
  private final Unwrapping unwrapping;
  private final SlopeDetector slopes = new SlopeDetector();
  private final HeatJudge heat;
  private final HeadingForHot heading;
  private double headingS;
  private long startSecond = Long.MIN_VALUE;
  private long lastUs;
  private double temperatureC = Double.NaN;
  private double temperatureS = Double.NEGATIVE_INFINITY;
  private double[] stillBias;
  private double movedS = Double.NEGATIVE_INFINITY;
  private double gapS;
  private double gapEndS = Double.NEGATIVE_INFINITY;
  private boolean tooSlow;
  private boolean rates;
  private String endlessTurn;
  private Rates declared = Rates.UNKNOWN;

  Observer(SoakTerms terms) {
    this.limits = terms.limits();
    this.warmUp = new WarmUpTracker(terms.tauPrior());
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
      lastUs = bin.firstUs();
    }
    double tS = bin.second() - startSecond + 0.5;
    watchGaps(bin, tS);
    Channel c = bin.temperatureC();
    if (c.count() > 0 && !wild) {
      warmUp.accept(tS, c.mean(), c.sd(), bin.temperatureStepC());
      temperatureC = c.mean();
      temperatureS = tS;
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
  }

  private void watchGaps(Bin bin, double tS) {
    double gap = (bin.firstUs() - lastUs) / 1e6;
    if (gap > limits.gapLimitS()) {
      gapS = gap;
      gapEndS = tS;
    }
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
      slopes.accept(tS, stillBias, blocks.segment());
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
    boolean lost = tS - temperatureS > TEMPERATURE_HOLD_S;
    Optional<RelaxationPosterior> tail = lost ? Optional.empty() : warmUp.tail();
    double age = tS - warmUp.tailS();
    double newest = lost ? Double.NaN : temperatureC;
    double now = tail.map(t -> t.present().value() + t.change(age).value()).orElse(newest);
    TostInterval rate = lost ? null : rate(tail, age);
    heading.accept(
        tS, tS - headingS, now, lost ? null : minuteRate(), tail, age, warmUp.tailSpanS());
    headingS = tS;
    String hidden = inside.finding().reason(declared);
    boolean known = bias.known() && hidden == null;
    boolean canShift = tail.isPresent() && known && stillness.deadAxis() < 0;
    TostInterval[] shift = canShift ? shifts(tail.get(), age, now) : null;
    return new Evidence(
        tS,
        temperature(
            tS, now, rate, new FitWindow(tail, age, warmUp.tailSpanS(), outlook(tail, age))),
        new Bias(
            stillBias,
            known ? models() : null,
            shift,
            canShift ? null : shiftReason(tail, hidden),
            known ? vetoedAxis() : -1,
            known && !Double.isNaN(now) ? nearUse(now) : Double.NaN),
        lines(tS, hidden),
        movedS,
        heat(second));
  }

  private Temperature temperature(double tS, double now, TostInterval rate, FitWindow window) {
    String reason = rate == null ? rateReason(tS) : null;
    return new Temperature(now, rate, reason, warmUp.turnedAtS(), window);
  }

  private RoomOutlook outlook(Optional<RelaxationPosterior> tail, double age) {
    return tail.isPresent() ? warmUp.outlook(age) : null;
  }

  private Lines lines(double tS, String hidden) {
    double gap = tS - gapEndS < GAP_WINDOW_S ? gapS : 0;
    return new Lines(rates, tooSlow, gap, hidden, endlessTurn, stillness.deadAxis());
  }

  /** What the last minute shows, with what the thermometer's step may hide of it. */
  private TostInterval minuteRate() {
    return warmUp
        .minuteSlope()
        .map(
            s -> new TostInterval(s.cPerMin(), 60 * quantile * s.seCPerS() + 1.5 * warmUp.blindC()))
        .orElse(null);
  }

  private Heat heat(long second) {
    return heat.hot() ? heat.heat() : heading.heat((second + 1) * 1_000_000L);
  }

  private TostInterval rate(Optional<RelaxationPosterior> tail, double age) {
    double hidden = 60 * warmUp.hiddenSlopeCPerS();
    if (tail.isPresent()) {
      Measured m = tail.get().slopeAfter(age);
      return new TostInterval(60 * m.value(), 60 * quantile * m.se() + hidden);
    }
    return warmUp
        .minuteSlope()
        .map(s -> new TostInterval(s.cPerMin(), 60 * 2 * quantile * s.seCPerS() + hidden))
        .orElse(null);
  }

  private TostInterval[] shifts(RelaxationPosterior tail, double age, double now) {
    Measured change = tail.changeBetween(age, age + limits.calibrationS());
    double hidden = warmUp.hiddenSlopeCPerS() * limits.calibrationS();
    double unshown = mayBeFollowed() ? BiasKnowledge.PRIOR.slopeSd() : 0;
    TostInterval[] out = new TostInterval[3];
    for (int i = 0; i < 3; i++) {
      BiasModel model = bias.axis(i);
      Measured d = model.difference(now, now + change.value());
      Measured slope = model.slopeAt(now + change.value());
      double se =
          Math.sqrt(
              d.se() * d.se()
                  + Math.pow(slope.value() * change.se(), 2)
                  + Math.pow(slope.se() * change.se(), 2));
      double believed = unshown * Math.hypot(change.value(), change.se());
      double half = quantile * Math.max(se, believed);
      out[i] =
          new TostInterval(d.value(), half + Math.max(Math.abs(slope.value()), unshown) * hidden);
    }
    return out;
  }

  /**
   * Whether a correction inside can't be excluded, so that a small slope of the rates may be the
   * correction's and not the unit's. Then it may be as steep as is believed of any unit.
   */
  private boolean mayBeFollowed() {
    return inside.finding() == InsideCorrection.Finding.UNKNOWN && declared == Rates.UNKNOWN;
  }

  private String rateReason(double tS) {
    double ago = tS - temperatureS;
    return Double.isInfinite(ago) || ago <= TEMPERATURE_HOLD_S
        ? "less than a minute of temperatures"
        : "no temperature for " + Spans.inMinutes(ago);
  }

  private String shiftReason(Optional<RelaxationPosterior> tail, String hidden) {
    if (!rates) {
      return "its lines carry no rates";
    }
    if (hidden != null) {
      return hidden;
    }
    int dead = stillness.deadAxis();
    if (dead >= 0) {
      return "its "
          + Axes.NAMES.get(dead)
          + " axis has never changed: dead, or too coarse to show drift";
    }
    return tail.isEmpty()
        ? "a minute of undisturbed warm-up is needed first"
        : "two minutes of lying still are needed first";
  }

  private int vetoedAxis() {
    for (int i = 0; i < 3; i++) {
      BiasModel m = bias.axis(i);
      TostInterval direct =
          slopes.change(i, limits.calibrationS(), m.whiteDps(), m.flickerDps(), quantile);
      if (direct != null && direct.outside(limits.shiftLimitDps())) {
        return i;
      }
    }
    return -1;
  }

  private double nearUse(double now) {
    double worst = 0;
    for (int i = 0; i < 3; i++) {
      double d = bias.axis(i).difference(limits.useTemperatureC(), now).value();
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
}

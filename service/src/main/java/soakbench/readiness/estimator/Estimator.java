package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.TauPrior;
import soakbench.numerics.RelaxationMixture;

/**
 * Estimates one soak second by second: temperatures of body and chip, level and swing of the room,
 * and each axis' bias, coefficient, curvature, flicker and settling; from these whether it is ready
 * and when it will be. The same seconds always give the same answers, so after a restart the stored
 * ones are given again. Not thread-safe.
 */
public final class Estimator implements Serializable {
  /** The last seconds may be handed in again where the thermometer turns out coarse. */
  private static final int KEPT_BLOCKS = 60;

  private static final double FORECAST_EVERY_S = 60;

  /** At first each half minute shows much more of a warm-up than was known, s. */
  private static final double YOUNG_S = 600;

  private static final double YOUNG_EVERY_S = 30;

  /** So near its end a forecast is made with every block, s. */
  private static final double NEAR_S = 120;

  private static final double HEARD_WINDOW_S = 60;

  private final Limits limits;
  private final TauPrior earlier;
  private final Blocks blocks = new Blocks();
  private final ReadyRule rule;
  private final Forecast forecast;
  private List<Block> kept = new ArrayList<>();
  private Bank bank;
  private boolean joint;
  private Block newest;
  private Answer.Shifts shifts;
  private TostInterval rateCPerMin;
  private RelaxationMixture relaxation;
  private boolean settled;
  private Answer.Expected expected;
  private double expectedAtS = Double.NEGATIVE_INFINITY;
  private double firstS;
  private Doubts doubts = Doubts.NONE;
  private long startSecond = Long.MIN_VALUE;
  private double movedS = Double.NEGATIVE_INFINITY;
  private double gapEndS = Double.NEGATIVE_INFINITY;
  private long lastUs;

  /**
   * An estimator of one soak by its limits.
   *
   * @param earlier what earlier soaks on the same rack say of the time constant; null for nothing
   */
  public Estimator(Limits limits, TauPrior earlier) {
    this.limits = limits;
    this.earlier = earlier;
    this.rule = new ReadyRule(limits);
    this.forecast = new Forecast(limits);
  }

  /**
   * Takes the next second.
   *
   * @param bin later than all before
   * @param motion what it showed of motion
   * @param doubts what else is held against it
   */
  public Answer add(Bin bin, Stillness.Answer motion, Doubts doubts) {
    if (startSecond == Long.MIN_VALUE) {
      startSecond = bin.second();
      lastUs = bin.firstUs();
    }
    double tS = bin.second() - startSecond + 0.5;
    if ((bin.firstUs() - lastUs) / 1e6 > limits.gapLimitS()) {
      gapEndS = tS;
    }
    boolean silent = (bin.firstUs() - lastUs) / 1e6 > limits.heardWithinS();
    lastUs = bin.lastUs();
    boolean moves = motion == Stillness.Answer.MOVED || motion == Stillness.Answer.NEW_LEVEL;
    movedS = moves ? tS : movedS;
    this.doubts = doubts;
    blocks.accept(bin, tS, moves, !doubts.wild(), this::take);
    if (silent || doubts.barred()) {
      rule.bar();
      expected = null;
    }
    boolean seen = motion != Stillness.Answer.NO_RATES && motion != Stillness.Answer.TOO_SLOW;
    boolean still = seen && tS - movedS >= limits.stillForS();
    if (bank != null) {
      boolean heard = tS - gapEndS >= HEARD_WINDOW_S;
      rule.second(tS + 0.5, still, heard, nowC(tS + 0.5), joint);
    }
    return answer(tS + 0.5);
  }

  private void take(Block block) {
    if (bank == null && !block.counts()) {
      return;
    }
    boolean coarse = blocks.thermometer().coarse();
    if (kept != null) {
      kept.add(block);
      if (coarse && !joint) {
        joint = true;
        restart();
      }
      kept = kept.size() > KEPT_BLOCKS ? null : kept;
    }
    feed(block);
    newest = block.counts() ? block : newest;
    judge(block);
  }

  /** With the rates as thermometer from the first block on. */
  private void restart() {
    bank = null;
    for (Block block : kept.subList(0, kept.size() - 1)) {
      feed(block);
    }
  }

  private void feed(Block block) {
    if (bank == null) {
      bank = new Bank(models(), joint, block);
      firstS = block.endS();
    } else {
      bank.accept(block);
    }
  }

  private List<RoomModel> models() {
    RoomModels room = RoomModels.of(limits.calibrationS());
    return joint ? room.coarse(earlier) : room.fine(earlier);
  }

  /** What is the same for all trackers is not kept. */
  private Object readResolve() {
    if (bank != null) {
      bank.follow(models());
    }
    return this;
  }

  private void judge(Block block) {
    List<WeighedFilter> parts = bank.parts();
    List<WeighedFilter> likely = parts.stream().filter(p -> p.share() > 0).toList();
    Outlook outlook = Outlook.of(likely, doubts.slopeDpsPerC());
    rateCPerMin = TostInterval.of(outlook.rateCPerS(), 60, limits.alpha());
    relaxation = Levelling.of(likely);
    shifts = bank.rated() ? shifts(outlook) : null;
    double rate = rateCPerMin.reach() / limits.temperatureRateLimitCPerMin() - 1;
    double shift = shifts == null ? 1 : shifts.worstDps().reach() / limits.shiftLimitDps() - 1;
    double over = Math.max(overBand(bank.meanC()), Math.max(rate, shift));
    if (over <= 0 && !shifts.within()) {
      over = Double.MIN_NORMAL;
    }
    settled = over <= 0;
    boolean alert = ReadyRule.alert(block.endS(), bank.surprisedS());
    rule.block(block.endS(), over, outlook, alert);
    if (newest != null
        && bank.rated()
        && !doubts.barred()
        && !rule.ready()
        && forecastDue(block.endS())) {
      expectedAtS = block.endS();
      expected = forecast.expected(parts, now(block.endS()), block.endS());
    }
  }

  private boolean forecastDue(double nowS) {
    boolean near = expected != null && expected.fromS() + expected.expectedS() - nowS <= NEAR_S;
    double everyS = nowS < YOUNG_S ? YOUNG_EVERY_S : FORECAST_EVERY_S;
    return settled || near || nowS - expectedAtS >= everyS;
  }

  private Forecast.Now now(double nowS) {
    return new Forecast.Now(
        newest,
        settled ? rule.dwellS(nowS) : 0,
        rule.neededS(joint),
        Math.max(0, movedS + limits.stillForS() - nowS),
        slopeThenDpsPerC());
  }

  /** A warm-up that is still steep will most likely show the axes' slopes before it is over. */
  private double slopeThenDpsPerC() {
    boolean level = rateCPerMin.within(limits.temperatureRateLimitCPerMin());
    return level ? doubts.slopeDpsPerC() : 0;
  }

  private double overBand(double celsius) {
    double half = (limits.bandHighC() - limits.bandLowC()) / 2;
    double middle = (limits.bandHighC() + limits.bandLowC()) / 2;
    return Math.abs(celsius - middle) / half - 1;
  }

  private Answer.Shifts shifts(Outlook outlook) {
    double alpha = limits.alpha();
    int[] at = outlook.worst();
    TostInterval worst = TostInterval.of(outlook.shiftDps()[at[0]][at[1]], 1, alpha);
    List<Estimate> each = new ArrayList<>();
    for (Spread[] axis : outlook.shiftDps()) {
      each.add(axis[axis.length - 1].estimate());
    }
    boolean within = outlook.within(limits.shiftLimitDps(), alpha);
    return new Answer.Shifts(each, worst, at[0], within);
  }

  /** The filters stand at the middle of the newest block. */
  private double nowC(double endS) {
    double rate = rateCPerMin == null ? 0 : rateCPerMin.value() / 60;
    return bank.meanC() + rate * (endS - bank.nowS() + Blocks.BLOCK_S / 2);
  }

  private Answer answer(double endS) {
    boolean ready = rule.ready();
    Answer.Dwell dwell = new Answer.Dwell(settled, rule.dwellS(endS), rule.neededS(joint), ready);
    if (bank == null) {
      return new Answer(endS, null, null, dwell, null);
    }
    double followedS = endS - Math.max(firstS, Math.max(bank.surprisedS(), gapEndS));
    Answer.Temperature temperature =
        new Answer.Temperature(nowC(endS), rateCPerMin, relaxation, followedS);
    return new Answer(endS, temperature, shifts, dwell, ready ? null : expected);
  }
}

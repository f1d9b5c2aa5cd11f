package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.TauPrior;

/**
 * Estimates one soak second by second: temperatures of body and chip, level and swing of the room,
 * and each axis' bias, coefficient, curvature, flicker and settling; from these whether it is ready
 * and when it will be. The same seconds always give the same answers, so after a restart the stored
 * ones are given again. Not thread-safe.
 */
public final class Estimator {
  /** The last seconds may be handed in again where the thermometer turns out coarse. */
  private static final int KEPT_BLOCKS = 60;

  private static final double FORECAST_EVERY_S = 60;
  private static final double HEARD_WINDOW_S = 60;
  private static final String NO_BLOCK = "ten seconds of lying still are needed first";

  private final Limits limits;
  private final TauPrior earlier;
  private final Blocks blocks = new Blocks(this::take);
  private final Standing standing;
  private final Forecast forecast;
  private List<Block> kept = new ArrayList<>();
  private Bank bank;
  private boolean joint;
  private Block newest;
  private Outlook outlook;
  private List<WeighedFilter> parts = List.of();
  private boolean settled;
  private int worst;
  private Tested worstTold;
  private Tested rateTold;
  private List<Tested> shiftsTold = List.of();
  private Answer.Expected expected;
  private double expectedAtS = Double.NEGATIVE_INFINITY;
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
    this.standing = new Standing(limits);
    this.forecast = new Forecast(limits);
  }

  /**
   * Takes the next second.
   *
   * @param bin later than all before
   * @param motion what it showed of motion
   * @param believed whether its temperature is to be believed
   */
  public Answer add(Bin bin, Stillness.Answer motion, boolean believed) {
    if (startSecond == Long.MIN_VALUE) {
      startSecond = bin.second();
      lastUs = bin.firstUs();
    }
    double tS = bin.second() - startSecond + 0.5;
    if ((bin.firstUs() - lastUs) / 1e6 > limits.gapLimitS()) {
      gapEndS = tS;
    }
    if ((bin.firstUs() - lastUs) / 1e6 > limits.heardWithinS()) {
      standing.silent();
    }
    lastUs = bin.lastUs();
    boolean moves = motion == Stillness.Answer.MOVED || motion == Stillness.Answer.NEW_LEVEL;
    movedS = moves ? tS : movedS;
    blocks.accept(bin, tS, moves, believed);
    boolean seen = motion != Stillness.Answer.NO_RATES && motion != Stillness.Answer.TOO_SLOW;
    boolean still = seen && tS - movedS >= limits.stillForS();
    if (bank != null) {
      boolean heard = tS - gapEndS >= HEARD_WINDOW_S;
      standing.second(tS + 0.5, still, heard, bank.meanC(), joint);
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
      Room room = Room.of(limits.calibrationS());
      bank = new Bank(joint ? room.coarse(earlier) : room.fine(earlier), joint, block);
    } else {
      bank.accept(block);
    }
  }

  private void judge(Block block) {
    parts = bank.parts();
    outlook = Outlook.of(parts);
    double alpha = limits.alpha();
    double celsius = bank.meanC();
    rateTold = Tested.of(outlook.rateCPerS(), 60, limits.temperatureRateLimitCPerMin(), alpha);
    tell(alpha);
    double over = Math.max(overBand(celsius), Math.max(over(rateTold), over(worstTold)));
    if (over <= 0 && !outlook.within(limits.shiftLimitDps(), alpha)) {
      over = Double.MIN_NORMAL;
    }
    settled = over <= 0;
    boolean alert = Standing.alert(block.endS(), bank.surprisedS());
    standing.block(block.endS(), over, outlook, alert);
    boolean due = block.endS() - expectedAtS >= FORECAST_EVERY_S;
    if (due && newest != null && !standing.ready()) {
      expectedAtS = block.endS();
      double still = movedS + limits.stillForS() - block.endS();
      Forecast.Now now =
          new Forecast.Now(
              newest,
              settled ? standing.dwellS(block.endS()) : 0,
              standing.neededS(joint),
              Math.max(0, still));
      expected = forecast.expected(parts, now, block.endS());
    }
  }

  private double overBand(double celsius) {
    double half = (limits.bandHighC() - limits.bandLowC()) / 2;
    double middle = (limits.bandHighC() + limits.bandLowC()) / 2;
    return Math.abs(celsius - middle) / half - 1;
  }

  private static double over(Tested told) {
    return told.reach() / told.limit() - 1;
  }

  private void tell(double alpha) {
    int[] at = outlook.worst();
    worst = at[0];
    worstTold = Tested.of(outlook.shiftDps()[at[0]][at[1]], 1, limits.shiftLimitDps(), alpha);
    List<Tested> told = new ArrayList<>();
    for (Spread[] axis : outlook.shiftDps()) {
      told.add(Tested.of(axis[axis.length - 1], 1, limits.shiftLimitDps(), alpha));
    }
    shiftsTold = told;
  }

  private Answer answer(double endS) {
    boolean ready = standing.ready();
    return new Answer(
        endS,
        bank == null ? Double.NaN : bank.meanC(),
        rateTold,
        new Answer.Shifts(shiftsTold, worstTold, worst),
        new Answer.Dwell(settled, standing.dwellS(endS), standing.neededS(joint), ready),
        ready ? null : expected,
        bank == null ? NO_BLOCK : expected == null ? Forecast.NEVER : null);
  }
}

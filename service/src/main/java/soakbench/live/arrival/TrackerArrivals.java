package soakbench.live.arrival;

import java.util.function.Supplier;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.live.arrival.Arrival.Input;
import soakbench.live.arrival.ArrivalState.Temperature;
import soakbench.live.arrival.ArrivalState.Unjudged;
import soakbench.model.Limits;
import soakbench.readiness.LineSpacing;

/**
 * What arrived from one tracker. Only what was measured live counts; of a recording's lines only
 * the time of arrival is noted. Thread-safe.
 */
final class TrackerArrivals {
  private static final long NEVER = Long.MIN_VALUE;

  /** A timestamp this far behind may still be live. */
  private static final long LIVE_BEHIND_US = 120_000_000;

  /** A longer step of the tracker's own time is none: arrival counts instead. */
  private static final long LONGEST_STEP_US = 30_000_000;

  /** After so long without a reading all starts over. */
  static final long FORGOTTEN_US = 600_000_000;

  private final Supplier<Limits> limits;
  private SenderPace pace;
  private PostedRanges ranges;
  private ArrivalHeatJudge heat;
  private HandFollower hand = new HandFollower();
  private LineSpacing spacing = new LineSpacing();
  private long touchedUs;
  private long heardUs = NEVER;
  private long stampUs;
  private double temperatureC = Double.NaN;
  private long temperatureUs = NEVER;
  private double axisS;
  private double axisAtTemperatureS;
  private double judgedAxisS;
  private long unjudgedSinceUs = NEVER;
  private long readings;

  /**
   * @param nowUs when the first line of it arrives
   */
  TrackerArrivals(Supplier<Limits> limits, long nowUs) {
    this.limits = limits;
    this.touchedUs = nowUs;
    this.heat = new ArrivalHeatJudge(limits);
  }

  /**
   * @param nowUs when it arrives, by a clock that never steps
   * @param dateUs the date then
   */
  synchronized void heard(Arrival arrival, double celsius, long nowUs, long dateUs) {
    touchedUs = nowUs;
    if (live(arrival, nowUs, dateUs)) {
      take(arrival.stampUs(), celsius, nowUs);
      if (arrival.line() != null) {
        boolean stamped = arrival.stampUs() != Long.MIN_VALUE;
        hand.take(arrival.tracker(), arrival.line(), stamped ? arrival.stampUs() : dateUs);
      }
    }
  }

  private boolean live(Arrival arrival, long nowUs, long dateUs) {
    if (arrival.input() == Input.RECORDED) {
      return false;
    }
    if (arrival.input() == Input.LIVE || arrival.stampUs() == Long.MIN_VALUE) {
      return true;
    }
    pace = pace == null ? new SenderPace() : pace;
    ranges = ranges == null ? new PostedRanges() : ranges;
    boolean isNew = ranges.isNew(arrival.stampUs(), nowUs);
    boolean inPace = pace.keepsPace(arrival.stampUs(), nowUs);
    return isNew && (inPace || arrival.stampUs() >= dateUs - LIVE_BEHIND_US);
  }

  private void take(long stamp, double celsius, long nowUs) {
    if (heardUs == NEVER || nowUs - heardUs > FORGOTTEN_US) {
      restart(nowUs);
    }
    axisS += elapsedS(stamp, nowUs);
    double quietS = (nowUs - heardUs) / 1e6;
    spacing.heard(quietS, quietS);
    stampUs = stamp;
    heardUs = nowUs;
    readings++;
    unjudgedSinceUs = unjudgedSinceUs == NEVER ? nowUs : unjudgedSinceUs;
    if (Double.isFinite(celsius)) {
      double arrivedS = temperatureUs == NEVER ? 0 : (nowUs - temperatureUs) / 1e6;
      heat.take(axisS, axisS - axisAtTemperatureS, arrivedS, celsius);
      temperatureC = celsius;
      temperatureUs = nowUs;
      axisAtTemperatureS = axisS;
    }
  }

  private void restart(long nowUs) {
    heat = new ArrivalHeatJudge(limits);
    hand = new HandFollower();
    spacing = new LineSpacing();
    heardUs = nowUs;
    stampUs = Long.MIN_VALUE;
    temperatureC = Double.NaN;
    temperatureUs = NEVER;
    axisS = 0;
    axisAtTemperatureS = 0;
    judgedAxisS = 0;
    unjudgedSinceUs = NEVER;
    readings = 0;
  }

  private double elapsedS(long stamp, long nowUs) {
    // Stamps of any year: their difference may not fit.
    boolean steps = stamp != Long.MIN_VALUE && stampUs != Long.MIN_VALUE && stamp > stampUs;
    long own = steps ? stamp - stampUs : 0;
    return (own > 0 && own <= LONGEST_STEP_US ? own : nowUs - heardUs) / 1e6;
  }

  /** How the handling that goes on stands; null where it lies. */
  synchronized HandlingProgress inHand() {
    return hand.progress().orElse(null);
  }

  /** Marks all that arrived so far as judged. */
  synchronized void judged() {
    judgedAxisS = axisS;
    unjudgedSinceUs = NEVER;
  }

  /** When anything came last, microseconds of the live clock. */
  synchronized long touchedUs() {
    return touchedUs;
  }

  /** Its state; null where nothing live ever came. */
  synchronized ArrivalState state(String tracker) {
    if (heardUs == NEVER) {
      return null;
    }
    return new ArrivalState(
        tracker,
        stampUs,
        heardUs,
        temperatureUs == NEVER ? null : new Temperature(temperatureC, temperatureUs),
        heat.heat(),
        readings,
        Math.round(spacing.silentAfterS(limits.get().heardWithinS()) * 1e6),
        new Unjudged(axisS - judgedAxisS, unjudgedSinceUs == NEVER ? heardUs : unjudgedSinceUs));
  }
}

package soakbench.live.arrival;

import java.util.function.Supplier;
import soakbench.live.arrival.Arrivals.Arrival;
import soakbench.live.arrival.Arrivals.Input;
import soakbench.live.arrival.Arrived.Temperature;
import soakbench.live.arrival.Arrived.Unjudged;
import soakbench.model.Limits;

/**
 * What arrived of one tracker. Only what was measured just now counts; lines of a recording only
 * leave a note that they came. For any thread.
 */
final class TrackerArrivals {
  private static final long NEVER = Long.MIN_VALUE;

  /** A stamp this far behind may still be of now. */
  private static final long LIVE_BEHIND_US = 120_000_000;

  /** A longer step of the tracker's own time is none: arrival counts instead. */
  private static final long LONGEST_STEP_US = 30_000_000;

  /** After so long without a reading all begins anew. */
  static final long FORGOTTEN_US = 600_000_000;

  private final Supplier<Limits> limits;
  private SenderPace pace;
  private PostedGround ground;
  private ArrivedHeat heat;
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
    this.heat = new ArrivedHeat(limits);
  }

  /**
   * @param nowUs when it arrives, by a clock that never steps
   * @param dateUs the date then
   */
  synchronized void heard(Arrival arrival, double celsius, long nowUs, long dateUs) {
    touchedUs = nowUs;
    if (live(arrival, nowUs, dateUs)) {
      take(arrival.stampUs(), celsius, nowUs);
    }
  }

  private boolean live(Arrival arrival, long nowUs, long dateUs) {
    if (arrival.input() == Input.LIVE || arrival.stampUs() == Long.MIN_VALUE) {
      return true;
    }
    pace = pace == null ? new SenderPace() : pace;
    ground = ground == null ? new PostedGround() : ground;
    boolean isNew = ground.isNew(arrival.stampUs(), nowUs);
    boolean kept = pace.kept(arrival.stampUs(), nowUs);
    return isNew && (kept || arrival.stampUs() >= dateUs - LIVE_BEHIND_US);
  }

  private void take(long stamp, double celsius, long nowUs) {
    if (heardUs == NEVER || nowUs - heardUs > FORGOTTEN_US) {
      beginAnew(nowUs);
    }
    axisS += elapsedS(stamp, nowUs);
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

  private void beginAnew(long nowUs) {
    heat = new ArrivedHeat(limits);
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

  /** Notes that all that arrived so far is judged. */
  synchronized void judged() {
    judgedAxisS = axisS;
    unjudgedSinceUs = NEVER;
  }

  /** When anything came last, microseconds of the live clock. */
  synchronized long touchedUs() {
    return touchedUs;
  }

  /** How it stands; null where nothing of now was ever heard. */
  synchronized Arrived standing(String tracker) {
    if (heardUs == NEVER) {
      return null;
    }
    return new Arrived(
        tracker,
        stampUs,
        heardUs,
        temperatureUs == NEVER ? null : new Temperature(temperatureC, temperatureUs),
        heat.heat(),
        readings,
        new Unjudged(axisS - judgedAxisS, unjudgedSinceUs == NEVER ? heardUs : unjudgedSinceUs));
  }
}

package soakbench.readiness;

import java.io.Serializable;
import java.util.function.Supplier;
import soakbench.model.Limits;

/**
 * Notices what is too hot or heating too fast for a battery, in a soak's seconds or in readings as
 * they arrive. Three seconds and three readings are needed, so a lone reading after power-on is not
 * hot. A late sign: the cell may be hotter than the IMU. Not thread-safe.
 */
public final class HeatJudge implements Serializable {
  private static final double LASTING_S = 3;
  private static final int READINGS = 3;

  /** A minute's rise is only known after a minute. */
  private static final double RISE_FROM_S = 60;

  private static final double COOLER_C = 0.5;

  private final Supplier<Limits> limits;
  private final Spell above = new Spell();
  private final Spell cool = new Spell();
  private final Spell steep = new Spell();
  private Heat heat;

  /**
   * @param limits asked with every reading
   */
  public HeatJudge(Supplier<Limits> limits) {
    this.limits = limits;
  }

  HeatJudge(Limits limits) {
    this(new Same(limits));
  }

  /** A soak's, which stay. */
  private record Same(Limits get) implements Supplier<Limits>, Serializable {}

  /** Takes a soak's next second with its mean temperature. */
  void accept(double tS, double temperatureC, int readings, Double riseCPerMin) {
    take(tS, temperatureC, readings, riseCPerMin, new double[] {1, 1}, 1);
  }

  /**
   * Takes one reading.
   *
   * @param tS when, s since the first
   * @param elapsedS how long after the reading before it, s
   * @param arrivedS the same by its arrival; the longer time counts, so that a tracker's slow clock
   *     hides nothing
   * @param riseCPerMin what the last minute rose, degC/min; null where not known
   */
  public void reading(
      double tS, double elapsedS, double arrivedS, double temperatureC, Double riseCPerMin) {
    take(tS, temperatureC, 1, riseCPerMin, new double[] {elapsedS, arrivedS}, 0);
  }

  private void take(
      double tS, double celsius, int readings, Double rise, double[] elapsedS, double firstS) {
    Limits now = limits.get();
    above.next(celsius >= now.hotC(), elapsedS, firstS, readings);
    cool.next(celsius < now.hotC() - COOLER_C, elapsedS, firstS, readings);
    boolean fast = tS >= RISE_FROM_S && rise != null && rise > now.riseLimitCPerMin();
    steep.next(fast, elapsedS, firstS, readings);
    if (above.lasts() && above.readings >= READINGS) {
      heat = Heat.over(celsius, now.hotC());
    } else if (steep.lasts()) {
      heat = Heat.rising(rise, now.riseLimitCPerMin());
    } else if (heat != null && cool.lasts() && !fast) {
      heat = null;
    }
  }

  boolean hot() {
    return heat != null;
  }

  /** What is wrong; null where nothing is. */
  public Heat heat() {
    return heat;
  }

  String reason() {
    return heat == null ? null : heat.reason();
  }

  /** For how long, and in how many readings, something has held. */
  private static final class Spell implements Serializable {
    private double s;
    private double arrivedS;
    private int readings;

    void next(boolean holds, double[] elapsedS, double firstS, int count) {
      s = !holds ? 0 : readings == 0 ? firstS : s + elapsedS[0];
      arrivedS = !holds ? 0 : readings == 0 ? firstS : arrivedS + elapsedS[1];
      readings = holds ? readings + count : 0;
    }

    boolean lasts() {
      return readings > 0 && Math.max(s, arrivedS) > LASTING_S - 1e-6;
    }
  }
}

package soakbench.readiness;

import soakbench.model.Limits;

/**
 * Notices what is too hot or heating too fast for a battery. Three seconds and three readings are
 * needed, so a lone reading after power-on is not hot. A late sign: the cell may be hotter than the
 * IMU. Not thread-safe.
 */
final class HeatWatch {
  private static final int SECONDS = 3;
  private static final double RISE_FROM_S = 120;

  private final Limits limits;
  private int hotSeconds;
  private int hotReadings;
  private int coolSeconds;
  private int steepSeconds;
  private boolean hot;
  private Heat heat;

  HeatWatch(Limits limits) {
    this.limits = limits;
  }

  void accept(double tS, double temperatureC, int readings, Double riseCPerMin) {
    boolean above = temperatureC >= limits.hotC();
    hotSeconds = above ? hotSeconds + 1 : 0;
    hotReadings = above ? hotReadings + readings : 0;
    coolSeconds = temperatureC < limits.hotC() - 0.5 ? coolSeconds + 1 : 0;
    boolean steep =
        tS >= RISE_FROM_S && riseCPerMin != null && riseCPerMin > limits.riseLimitCPerMin();
    steepSeconds = steep ? steepSeconds + 1 : 0;
    boolean tooHot = hotSeconds >= SECONDS && hotReadings >= 3;
    boolean tooSteep = steepSeconds >= SECONDS;
    if (tooHot) {
      hot = true;
      String shown = Text.degrees(temperatureC);
      String limit = Text.degrees(limits.hotC());
      String reason = shown + (shown.equals(limit) ? " is just over " : " is over ") + limit;
      heat = new Heat(false, temperatureC, limits.hotC(), reason);
    } else if (tooSteep) {
      hot = true;
      String reason =
          "rising "
              + Text.number(riseCPerMin, 1)
              + " °C/min, over "
              + Text.number(limits.riseLimitCPerMin(), 1);
      heat = new Heat(true, riseCPerMin, limits.riseLimitCPerMin(), reason);
    } else if (hot && coolSeconds >= SECONDS && !steep) {
      hot = false;
      heat = null;
    }
  }

  boolean hot() {
    return hot;
  }

  /** What is wrong; null where nothing is. */
  Heat heat() {
    return heat;
  }

  String reason() {
    return heat == null ? null : heat.reason();
  }
}

package soakbench.readiness;

import java.util.List;
import java.util.Locale;
import soakbench.drift.CalibrationSeen;
import soakbench.drift.Heading;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.numerics.ColouredNoise;

/**
 * What the still minute after a calibration shows. Firmware that corrects ought to read nothing; of
 * raw rates the bias now is held against that before lifting.
 *
 * @param residualDps what is left, deg/s, x y z; 95 %
 * @param degPerMin heading error rate now, of the worst axis, deg/min
 * @param degPerMinInUse the same at the use temperature
 * @param verdict what to do
 * @param reason why, in one line
 */
public record CalibrationCheck(
    List<Estimate> residualDps,
    Estimate degPerMin,
    Estimate degPerMinInUse,
    Verdict verdict,
    String reason) {

  /** Least length of the stretch that is looked at, s. */
  public static final int LOOK_S = 60;

  /** More than this is no good calibration, deg/s: what the verdict calls harmful, too. */
  public static final double LIMIT_DPS = 0.015;

  private static final double QUANTILE = 1.96;
  private static final double LONG_OPEN_S = 90;
  private static final double WIDE_SPREAD_C = 0.5;

  /** What to do with a calibration. */
  public enum Verdict {
    KEEP,
    DO_AGAIN,
    /** It can't be known. */
    UNKNOWN;

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  public CalibrationCheck {
    residualDps = List.copyOf(residualDps);
  }

  /**
   * The check.
   *
   * @param still the first seconds of lying still after the mark, at least {@link #LOOK_S}
   * @param rates what is said of its firmware
   * @param whiteDps N of each axis, deg/sqrt(s)
   * @param flickerDps B of each axis, deg/s; 0 where it is not resolved
   * @param toUse heading from the temperature now to that in use
   * @throws IllegalArgumentException if the stretch is too short
   */
  public static CalibrationCheck of(
      CalibrationSeen mark,
      List<Bin> still,
      Rates rates,
      double[] whiteDps,
      double[] flickerDps,
      Heading toUse) {
    if (still.size() < LOOK_S) {
      throw new IllegalArgumentException(
          "a check takes " + LOOK_S + " still seconds, not " + still.size());
    }
    if (rates == Rates.UNKNOWN) {
      return unknown(
          "nobody has said whether its rates are raw or corrected: set it in the roster");
    }
    Estimate[] residual = new Estimate[3];
    for (int i = 0; i < 3; i++) {
      residual[i] = residual(mark, still, rates, i, whiteDps[i], flickerDps[i]);
    }
    Estimate now = worst(residual, null);
    Estimate use = worst(residual, toUse);
    return judged(mark, List.of(residual), now, use);
  }

  private static CalibrationCheck unknown(String reason) {
    Estimate none = Estimate.unknown(reason);
    return new CalibrationCheck(List.of(none, none, none), none, none, Verdict.UNKNOWN, reason);
  }

  private static Estimate residual(
      CalibrationSeen mark, List<Bin> still, Rates rates, int axis, double n, double b) {
    double mean = still.stream().mapToDouble(bin -> bin.gyroDps()[axis].mean()).average().orElse(0);
    double half = still.size() / 2.0;
    double middleS = still.get(0).second() + half;
    if (rates == Rates.CORRECTED) {
      double[][] v =
          ColouredNoise.covariance(new double[] {half}, new double[] {still.size()}, n, b);
      return Estimate.of(mean, Math.sqrt(v[0][0]), QUANTILE);
    }
    double apart = middleS - (mark.atSecond() - mark.stillS() / 2.0);
    double[][] v =
        ColouredNoise.covariance(
            new double[] {0, apart}, new double[] {mark.stillS(), still.size()}, n, b);
    double variance = v[0][0] + v[1][1] - 2 * v[0][1];
    return Estimate.of(mean - mark.biasDps()[axis], Math.sqrt(variance), QUANTILE);
  }

  /** The axis whose rate is greatest, deg/min, signed. */
  private static Estimate worst(Estimate[] residualDps, Heading toUse) {
    Estimate worst = null;
    for (int i = 0; i < 3; i++) {
      double value = 60 * residualDps[i].value();
      double se = 60 * residualDps[i].se();
      if (toUse != null) {
        Estimate more =
            toUse.axes().isEmpty() ? toUse.degPerMin() : toUse.axes().get(i).degPerMin();
        if (!more.known()) {
          return more;
        }
        value += more.value();
        se = Math.hypot(se, more.se());
      }
      if (worst == null || Math.abs(value) > Math.abs(worst.value())) {
        worst = Estimate.of(value, se, QUANTILE);
      }
    }
    return worst;
  }

  private static CalibrationCheck judged(
      CalibrationSeen mark, List<Estimate> residual, Estimate now, Estimate use) {
    double limit = 60 * LIMIT_DPS;
    if (2 * QUANTILE * now.se() > 2 * limit) {
      String noisy =
          text("a minute tells no better than +-%.1f deg/min: too noisy", QUANTILE * now.se());
      return new CalibrationCheck(residual, now, use, Verdict.UNKNOWN, noisy);
    }
    boolean badNow = Math.abs(now.value()) > limit;
    boolean badInUse = use.known() && Math.abs(use.value()) > limit;
    if (!badNow && !badInUse) {
      String kept = text("%.1f deg/min is left, %.1f are allowed", Math.abs(now.value()), limit);
      return new CalibrationCheck(residual, now, use, Verdict.KEEP, kept);
    }
    double shown = badNow ? now.value() : use.value();
    String again =
        text(
            "%.1f deg/min %s, %.1f are allowed: do it again, %s",
            Math.abs(shown), badNow ? "is left" : "in use", limit, how(mark, badNow));
    return new CalibrationCheck(residual, now, use, Verdict.DO_AGAIN, again);
  }

  private static String how(CalibrationSeen mark, boolean badNow) {
    if (!badNow) {
      return "nearer to the use temperature";
    }
    boolean cooled = mark.temperatureSpreadC() > WIDE_SPREAD_C;
    if (mark.openS() > LONG_OPEN_S || cooled) {
      return text("quicker: it was in the open for %d s", mark.openS());
    }
    return "stiller in each pose";
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}

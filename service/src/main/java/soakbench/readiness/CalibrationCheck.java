package soakbench.readiness;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import soakbench.drift.CalibrationSeen;
import soakbench.drift.Heading;
import soakbench.drift.HeadingAnalysis;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.numerics.ColouredNoise;

/**
 * What the still minute after a calibration shows. Firmware that corrects ought to read nothing; of
 * raw rates the bias now is held against that before lifting.
 *
 * <p>Intervals hold the noise and the Earth's rotation, whose direction a still unit does not know.
 * They don't hold what gravity adds on the face that it lies on: nobody has measured that. The
 * verdict is told where 95 % lie on one side of the limit, else it says what is more likely.
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

  /** 95 % to one side, as for ready: so far, in standard errors, a verdict keeps from the limit. */
  private static final double CLEAR_SE = 1.645;

  /** The Earth's rate along an unknown direction is uniform between plus and minus this, deg/s. */
  private static final double EARTH_DPS = HeadingAnalysis.EARTH_DEG_PER_MIN / 60;

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
    return judged(mark, List.of(residual), toUse);
  }

  private static CalibrationCheck unknown(String reason) {
    Estimate none = Estimate.unknown(reason);
    return new CalibrationCheck(List.of(none, none, none), none, none, Verdict.UNKNOWN, reason);
  }

  private static Estimate residual(
      CalibrationSeen mark, List<Bin> still, Rates rates, int axis, double n, double b) {
    double mean = still.stream().mapToDouble(bin -> bin.gyroDps()[axis].mean()).average().orElse(0);
    double half = still.size() / 2.0;
    double earth = EARTH_DPS * EARTH_DPS / 3;
    double middleS = still.get(0).second() + half;
    if (rates == Rates.CORRECTED) {
      double[][] v =
          ColouredNoise.covariance(new double[] {half}, new double[] {still.size()}, n, b);
      return Estimate.of(mean, Math.sqrt(v[0][0] + earth), QUANTILE);
    }
    double apart = middleS - (mark.atSecond() - mark.stillS() / 2.0);
    double[][] v =
        ColouredNoise.covariance(
            new double[] {0, apart}, new double[] {mark.stillS(), still.size()}, n, b);
    double variance = v[0][0] + v[1][1] - 2 * v[0][1] + 2 * earth;
    return Estimate.of(mean - mark.biasDps()[axis], Math.sqrt(variance), QUANTILE);
  }

  private static CalibrationCheck judged(
      CalibrationSeen mark, List<Estimate> residual, Heading toUse) {
    List<Estimate> now = residual.stream().map(r -> sum(r, Estimate.of(0, 0, QUANTILE))).toList();
    List<Estimate> use = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      boolean each = !toUse.axes().isEmpty();
      use.add(sum(residual.get(i), each ? toUse.axes().get(i).degPerMin() : toUse.degPerMin()));
    }
    Estimate unknown = use.stream().filter(u -> !u.known()).findFirst().orElse(null);
    List<Estimate> asked = unknown == null ? List.of(worst(now), worst(use)) : List.of(worst(now));
    Estimate inUse = unknown == null ? worst(use) : unknown;
    boolean badNow = now.stream().anyMatch(CalibrationCheck::outside);
    boolean badInUse = unknown == null && use.stream().anyMatch(CalibrationCheck::outside);
    if (badNow || badInUse) {
      String again = again(mark, badNow, badNow ? worst(now) : inUse, toUse);
      return new CalibrationCheck(residual, worst(now), inUse, Verdict.DO_AGAIN, again);
    }
    boolean good = now.stream().allMatch(CalibrationCheck::inside);
    good &= unknown != null || use.stream().allMatch(CalibrationCheck::inside);
    return new CalibrationCheck(
        residual,
        worst(now),
        inUse,
        good ? Verdict.KEEP : Verdict.UNKNOWN,
        good ? kept(worst(now)) : unsure(asked));
  }

  /** deg/min of a residual and what use adds. */
  private static Estimate sum(Estimate residualDps, Estimate moreDegPerMin) {
    if (!moreDegPerMin.known()) {
      return moreDegPerMin;
    }
    // An interval of a heading need not come with a standard error.
    double more =
        moreDegPerMin.se() != null
            ? moreDegPerMin.se()
            : (moreDegPerMin.high() - moreDegPerMin.low()) / (2 * QUANTILE);
    double value = 60 * residualDps.value() + moreDegPerMin.value();
    return Estimate.of(value, Math.hypot(60 * residualDps.se(), more), QUANTILE);
  }

  private static boolean outside(Estimate degPerMin) {
    return Math.abs(degPerMin.value()) - CLEAR_SE * degPerMin.se() > 60 * LIMIT_DPS;
  }

  private static boolean inside(Estimate degPerMin) {
    return Math.abs(degPerMin.value()) + CLEAR_SE * degPerMin.se() <= 60 * LIMIT_DPS;
  }

  /** The axis that may be farthest off, signed. */
  private static Estimate worst(List<Estimate> degPerMin) {
    return degPerMin.stream()
        .max(Comparator.comparingDouble(e -> Math.abs(e.value())))
        .orElseThrow();
  }

  private static String kept(Estimate now) {
    return text("%.1f deg/min is left, %.1f are allowed", Math.abs(now.value()), 60 * LIMIT_DPS);
  }

  private static String unsure(List<Estimate> asked) {
    Estimate most = worst(asked);
    double half = QUANTILE * most.se();
    if (CLEAR_SE * most.se() > 60 * LIMIT_DPS) {
      return text("a minute tells no better than +-%.1f deg/min: too noisy", half);
    }
    double value = Math.abs(most.value());
    return text(
        "%.1f +- %.1f deg/min is left, %.1f are allowed: more likely %s, too close to tell",
        value, half, 60 * LIMIT_DPS, value > 60 * LIMIT_DPS ? "too much" : "good");
  }

  private static String again(CalibrationSeen mark, boolean badNow, Estimate shown, Heading toUse) {
    return text(
        "%.1f deg/min %s, %.1f are allowed: do it again, %s",
        Math.abs(shown.value()),
        badNow ? "is left" : "in use",
        60 * LIMIT_DPS,
        badNow ? how(mark) : nearer(toUse));
  }

  private static String nearer(Heading toUse) {
    if (toUse.useC() == null || toUse.calibratedC() == null) {
      return "nearer to the use temperature";
    }
    return text(
        "%s: nearer to the %.1f degC of use",
        toUse.useC() > toUse.calibratedC() ? "warmer" : "cooler", toUse.useC());
  }

  private static String how(CalibrationSeen mark) {
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

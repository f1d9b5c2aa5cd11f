package soakbench.readiness;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.drift.heading.Heading;
import soakbench.model.Estimate;

/**
 * What the still minute after a calibration shows, as {@link
 * soakbench.drift.calibration.ResidualRate} reads it. A verdict is given where it is right at odds
 * of four to one or better, now and in use, else the reason says what is more likely. What is good
 * now is no "keep" while nobody knows what it will be in use.
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

  /** The same as heading, deg/min. */
  public static final double LIMIT_DEG_PER_MIN = 0.9;

  private static final String ALLOWED =
      String.format(Locale.ROOT, ", %.1f are allowed", LIMIT_DEG_PER_MIN);

  private static final String DO_IT_AGAIN = ": do it again, ";

  private static final double QUANTILE = 1.96;

  /** Least probability of a verdict; over many, those that are given are right far more often. */
  private static final double LEAST_PROBABILITY = 0.8;

  private static final NormalDistribution NORMAL = new NormalDistribution();

  private static final double LONG_OPEN_S = 90;
  private static final double WIDE_SPREAD_C = 0.5;

  /** What to do with a calibration. */
  public enum Verdict {
    KEEP,
    DO_AGAIN,
    /** It can't be known, or only of now and not of use. */
    UNKNOWN;

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  public CalibrationCheck {
    residualDps = List.copyOf(residualDps);
    Objects.requireNonNull(degPerMin, "degPerMin");
    Objects.requireNonNull(degPerMinInUse, "degPerMinInUse");
    Objects.requireNonNull(verdict, "verdict");
  }

  /**
   * The check.
   *
   * @param residualDps what the calibration left, deg/s, x y z
   * @param toUse heading from the temperature now to that in use
   */
  public static CalibrationCheck of(HandlingSeen mark, List<Estimate> residualDps, Heading toUse) {
    List<Estimate> axesNow = now(residualDps);
    List<Estimate> axesInUse = inUse(residualDps, toUse);
    Estimate unknown = axesInUse.stream().filter(u -> !u.known()).findFirst().orElse(null);
    Estimate now = worst(axesNow);
    Estimate inUse = unknown == null ? worst(axesInUse) : unknown;
    double goodNow = goodProbability(axesNow);
    double goodInUse = unknown == null ? goodProbability(axesInUse) : goodNow;
    Verdict all = verdict(Math.min(goodNow, goodInUse));
    Verdict verdict = all == Verdict.KEEP && unknown != null ? Verdict.UNKNOWN : all;
    String reason =
        switch (verdict) {
          case KEEP -> kept(now);
          case DO_AGAIN -> again(mark, verdict(goodNow) == Verdict.DO_AGAIN, now, inUse, toUse);
          case UNKNOWN -> unsure(now, goodNow, inUse, goodInUse);
        };
    return new CalibrationCheck(residualDps, now, inUse, verdict, reason);
  }

  private static Verdict verdict(double goodProbability) {
    return goodProbability >= LEAST_PROBABILITY
        ? Verdict.KEEP
        : goodProbability <= 1 - LEAST_PROBABILITY ? Verdict.DO_AGAIN : Verdict.UNKNOWN;
  }

  private static List<Estimate> now(List<Estimate> residualDps) {
    return residualDps.stream().map(r -> sum(r, Estimate.of(0, 0, QUANTILE))).toList();
  }

  /** What the verdict would be if it were used at the temperature of the check. */
  public Verdict verdictNow() {
    boolean known = residualDps.stream().allMatch(Estimate::known);
    return known ? verdict(goodProbability(now(residualDps))) : Verdict.UNKNOWN;
  }

  private static List<Estimate> inUse(List<Estimate> residualDps, Heading toUse) {
    List<Estimate> use = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      boolean each = !toUse.axes().isEmpty();
      use.add(sum(residualDps.get(i), each ? toUse.axes().get(i).degPerMin() : toUse.degPerMin()));
    }
    return use;
  }

  /** No check, and why. */
  public static CalibrationCheck unknown(String reason) {
    Estimate none = Estimate.unknown(reason);
    return new CalibrationCheck(List.of(none, none, none), none, none, Verdict.UNKNOWN, reason);
  }

  /** What to do otherwise the next time; null where it need not be done again. */
  public String how() {
    int at = reason.indexOf(DO_IT_AGAIN);
    return at < 0 ? null : reason.substring(at + DO_IT_AGAIN.length());
  }

  /** The reason without {@link #how}. */
  public String why() {
    int at = reason.indexOf(DO_IT_AGAIN);
    return at < 0 ? reason : reason.substring(0, at);
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

  /** How likely all axes are within the limit. */
  private static double goodProbability(List<Estimate> degPerMin) {
    double all = 1;
    for (Estimate e : degPerMin) {
      double low = (-LIMIT_DEG_PER_MIN - e.value()) / e.se();
      double high = (LIMIT_DEG_PER_MIN - e.value()) / e.se();
      all *= NORMAL.probability(low, high);
    }
    return all;
  }

  /** The axis that may be farthest off, signed. */
  private static Estimate worst(List<Estimate> degPerMin) {
    return degPerMin.stream()
        .max(Comparator.comparingDouble(e -> Math.abs(e.value())))
        .orElseThrow();
  }

  private static String kept(Estimate now) {
    return text("%.1f deg/min is left", Math.abs(now.value())) + ALLOWED;
  }

  private static String unsure(Estimate now, double goodNow, Estimate inUse, double goodInUse) {
    String first = verdict(goodNow) == Verdict.KEEP ? "good now; " : "";
    if (!inUse.known()) {
      return first.isEmpty() ? close(now, goodNow) : first + "in use not known: " + inUse.reason();
    }
    return goodNow <= goodInUse
        ? close(now, goodNow)
        : first + size(inUse) + " in use" + tooClose(goodInUse);
  }

  private static String close(Estimate now, double good) {
    double best = LIMIT_DEG_PER_MIN / now.se();
    return NORMAL.probability(-best, best) < LEAST_PROBABILITY
        ? text("a minute tells no better than +-%.1f deg/min: too unsure", half(now))
        : size(now) + " is left" + tooClose(good);
  }

  private static String tooClose(double good) {
    String likelier = good >= 0.5 ? "good" : "too much";
    return ALLOWED + ": more likely " + likelier + ", too close to tell";
  }

  private static String again(
      HandlingSeen mark, boolean badNow, Estimate now, Estimate inUse, Heading toUse) {
    return (badNow ? shown(now) + " is left" : shown(inUse) + " in use")
        + (ALLOWED + DO_IT_AGAIN)
        + (badNow ? how(mark) : nearer(toUse));
  }

  /** What is within the limit and yet too unsure to be good is told with how unsure it is. */
  private static String shown(Estimate e) {
    double value = Math.abs(e.value());
    return value > LIMIT_DEG_PER_MIN ? text("%.1f deg/min", value) : size(e);
  }

  private static String size(Estimate e) {
    return text("%.1f +- %.1f deg/min", Math.abs(e.value()), half(e));
  }

  private static double half(Estimate e) {
    return QUANTILE * e.se();
  }

  private static String nearer(Heading toUse) {
    if (toUse.asked().useC() == null || toUse.asked().calibratedC() == null) {
      return "nearer to the use temperature";
    }
    return text(
        "%s: nearer to the %.1f degC of use",
        toUse.asked().useC() > toUse.asked().calibratedC() ? "warmer" : "cooler",
        toUse.asked().useC());
  }

  private static String how(HandlingSeen mark) {
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

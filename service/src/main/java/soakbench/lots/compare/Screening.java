package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.model.Estimate;

/**
 * What to do with a unit.
 *
 * @param verdict accept it or not
 * @param reason why, in one line; empty where nothing speaks against it
 */
public record Screening(Verdict verdict, String reason) {

  /** What to do with a unit. */
  public enum Verdict {
    ACCEPT("accept"),
    LOOK_AGAIN("look again"),
    REJECT("reject");

    private final String words;

    Verdict(String words) {
      this.words = words;
    }

    /** As people and programs read it. */
    public String words() {
      return words;
    }
  }

  /** How many of a lot have which verdict. */
  public record Summary(int accept, int lookAgain, int reject) {
    /** Counts verdicts. */
    public static Summary of(Iterable<Screening> all) {
      int[] counts = new int[Verdict.values().length];
      all.forEach(s -> counts[s.verdict().ordinal()]++);
      return new Summary(counts[0], counts[1], counts[2]);
    }
  }

  /**
   * Every unit of a lot, by id: by the limits for screening; a figure of the worst axis without
   * such by what the limits in force come to, over which a unit is looked at again.
   */
  public static Map<String, Screening> of(Lot lot, LotLimits limits) {
    Map<String, List<String>> misfits = Misfits.of(lot);
    Map<String, Screening> all = new LinkedHashMap<>();
    for (LotUnit unit : lot.units()) {
      all.put(unit.tracker(), of(unit, limits, misfits.getOrDefault(unit.tracker(), List.of())));
    }
    return all;
  }

  /** Why nobody of a lot was tested for not fitting it; null where that was done. */
  public static String untested(Lot lot) {
    return Misfits.tooFew(lot.units().size());
  }

  private static Screening of(LotUnit unit, LotLimits limits, List<String> misfits) {
    Verdict worst = Verdict.ACCEPT;
    List<String> reasons = new ArrayList<>();
    for (Metric metric : Metrics.byName().values()) {
      Screening one = of(metric, metric.of().apply(unit), limits);
      if (one.verdict() != Verdict.ACCEPT) {
        worst = one.verdict().compareTo(worst) > 0 ? one.verdict() : worst;
        reasons.add(one.reason());
      }
    }
    reasons.addAll(misfits);
    if (worst == Verdict.ACCEPT && !misfits.isEmpty()) {
      worst = Verdict.LOOK_AGAIN;
    }
    return new Screening(worst, String.join("; ", reasons));
  }

  private static Screening of(Metric metric, Estimate e, LotLimits limits) {
    ScreeningLimit set = limits.screening().get(metric.name());
    return set == null ? byLimitsInForce(metric, e, limits.of(metric)) : of(metric, e, set);
  }

  /**
   * Whose temperature levels outside the band says more of the room than of the unit. One of which
   * not even a coefficient is known was not measured, and is not accepted for that.
   */
  private static Screening byLimitsInForce(Metric metric, Estimate e, MetricLimit limit) {
    if (metric.name().equals(Metrics.DEFAULT) && !e.known()) {
      return unknown(metric, e);
    }
    boolean over =
        limit != null
            && metric.kind() == Metric.Kind.WORST
            && e.known()
            && limit.isOutside(e.value());
    return over
        ? new Screening(
            Verdict.LOOK_AGAIN,
            text(metric, metric.size(e.value()), half(e))
                + over("", limit.high())
                + " by the limits in force")
        : new Screening(Verdict.ACCEPT, "");
  }

  private static double half(Estimate e) {
    return e.low() == null || e.high() == null ? 0 : (e.high() - e.low()) / 2;
  }

  /** By one figure: rejected only where its interval lies wholly beyond the limit. */
  private static Screening of(Metric metric, Estimate e, ScreeningLimit limit) {
    if (!e.known()) {
      return unknown(metric, e);
    }
    double size = metric.size(e.value());
    double half = half(e);
    Double reject = limit.rejectOver();
    Double again = limit.lookAgainOver();
    if (reject != null && size - half > reject) {
      return new Screening(Verdict.REJECT, text(metric, size, half) + over("", reject));
    }
    if (reject != null && size + half > reject) {
      return new Screening(
          Verdict.LOOK_AGAIN,
          text(metric, size, half) + over("may be ", reject) + ": one more soak");
    }
    return again != null && size > again
        ? new Screening(Verdict.LOOK_AGAIN, text(metric, size, half) + over("", again))
        : new Screening(Verdict.ACCEPT, "");
  }

  private static Screening unknown(Metric metric, Estimate e) {
    return new Screening(Verdict.LOOK_AGAIN, metric.words() + " not known: " + e.reason());
  }

  private static String text(Metric metric, double size, double half) {
    return "%s %s%s %s,"
        .formatted(
            metric.words(),
            Counts.number(size),
            half > 0 ? " +- " + Counts.number(half) : "",
            metric.unit());
  }

  private static String over(String may, double limit) {
    return " " + may + "over " + Counts.number(limit);
  }
}

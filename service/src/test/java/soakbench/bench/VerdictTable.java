package soakbench.bench;

import java.io.PrintWriter;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.function.ToIntFunction;
import java.util.stream.Stream;
import org.hipparchus.distribution.continuous.BetaDistribution;
import soakbench.bench.VerdictScore.ForecastScore;

/** The figures by which the verdict is judged, over many simulated trackers. */
final class VerdictTable {
  private static final String LINE = "  %-46s %s%n";

  private final List<VerdictScore> scores;

  VerdictTable(List<VerdictScore> scores) {
    this.scores = scores;
  }

  long harmful() {
    return scores.stream().filter(s -> !s.harmfulEntriesS().isEmpty()).count();
  }

  double delayQuantileS(double p) {
    double[] delays =
        scores.stream().mapToDouble(VerdictScore::delayS).filter(d -> !Double.isNaN(d)).toArray();
    return quantile(delays, p);
  }

  double neverShare() {
    long could = scores.stream().filter(VerdictScore::could).count();
    return could == 0 ? 0 : (double) never() / could;
  }

  private long never() {
    return scores.stream().filter(s -> s.could() && !s.declared()).count();
  }

  double changesPerHour() {
    return scores.stream().mapToDouble(s -> s.changes() / s.hours()).average().orElse(0);
  }

  /** Median error without its sign, s, at one of {@link VerdictScore#WAY_PERCENT}. */
  double forecastErrorS(int way) {
    return quantile(forecasts(way).mapToDouble(f -> Math.abs(f.errorS())).toArray(), 0.5);
  }

  double forecastCoverage(int way) {
    return forecasts(way).mapToDouble(f -> f.covered() ? 1 : 0).average().orElse(Double.NaN);
  }

  private Stream<ForecastScore> forecasts(int way) {
    return scores.stream().map(s -> s.forecasts()[way]).filter(Objects::nonNull);
  }

  void print(String mix, PrintWriter out) {
    long n = scores.size();
    out.printf("%s, %d trackers%n", mix, n);
    line(out, "harmful entries, trackers", share(harmful(), n));
    line(out, "entries just after a lid or sun, apart", String.valueOf(sumUnforeseeable()));
    line(
        out,
        "delay of ready, median / 90th percentile, s",
        number(delayQuantileS(0.5)) + " / " + number(delayQuantileS(0.9)));
    long could = scores.stream().filter(VerdictScore::could).count();
    line(out, "never declared of those ready over ten minutes", share(never(), could));
    line(out, "changes of state an hour", String.format(Locale.ROOT, "%.1f", changesPerHour()));
    line(out, "disturbed for nothing", mistaken());
    line(out, "motions seen", total(MotionScore::seen) + " of " + total(MotionScore::motions));
    line(out, "expected time at 25, 50, 75 %: median error, s", each(this::forecastErrorS, "%.0f"));
    line(
        out,
        "expected time: coverage of the 90 % interval, %",
        each(w -> 100 * forecastCoverage(w), "%.0f"));
    line(out, "expected time: answers", each(w -> forecasts(w).count(), "%.0f"));
    scores.stream()
        .filter(badly())
        .forEach(
            s ->
                out.printf(
                    LINE,
                    "harmful: " + s.tracker(),
                    s.harmfulEntriesS() + " s, " + String.join(", ", s.scenarios())));
    out.flush();
  }

  private String mistaken() {
    double hours = scores.stream().mapToDouble(VerdictScore::hours).sum();
    int times = total(MotionScore::mistaken);
    return String.format(Locale.ROOT, "%d in %.0f h, %.3f an hour", times, hours, times / hours);
  }

  private int total(ToIntFunction<MotionScore> figure) {
    return scores.stream().map(VerdictScore::motions).mapToInt(figure).sum();
  }

  private static Predicate<VerdictScore> badly() {
    return s -> !s.harmfulEntriesS().isEmpty();
  }

  private int sumUnforeseeable() {
    return scores.stream().mapToInt(VerdictScore::unforeseeableEntries).sum();
  }

  private static void line(PrintWriter out, String what, String value) {
    out.printf(LINE, what, value);
  }

  private interface OfWay {
    double at(int way);
  }

  private static String each(OfWay figure, String form) {
    StringBuilder text = new StringBuilder();
    for (int way = 0; way < VerdictScore.WAY_PERCENT.length; way++) {
      text.append(way == 0 ? "" : ", ").append(String.format(Locale.ROOT, form, figure.at(way)));
    }
    return text.toString();
  }

  /**
   * A count with its share and the upper 95 % limit of the share (Clopper and Pearson, Biometrika
   * 26, 1934).
   */
  private static String share(long count, long of) {
    if (of == 0) {
      return "none to count";
    }
    double upper =
        count == of
            ? 1
            : new BetaDistribution(count + 1.0, of - count).inverseCumulativeProbability(0.95);
    return String.format(
        Locale.ROOT,
        "%d of %d, %.1f %% (under %.1f %%)",
        count,
        of,
        100.0 * count / of,
        100 * upper);
  }

  private static String number(double value) {
    return Double.isNaN(value) ? "none" : String.format(Locale.ROOT, "%.0f", value);
  }

  /** Linear between order statistics; NaN for none. */
  private static double quantile(double[] values, double p) {
    if (values.length == 0) {
      return Double.NaN;
    }
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double at = p * (sorted.length - 1);
    int low = (int) at;
    int high = Math.min(low + 1, sorted.length - 1);
    return sorted[low] + (at - low) * (sorted[high] - sorted[low]);
  }
}

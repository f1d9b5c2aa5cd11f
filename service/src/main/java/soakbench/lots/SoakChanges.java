package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.model.Estimate;

/**
 * What changed from one soak of a unit to the next.
 *
 * @param soak the earlier soak
 * @param startUs when that began, microseconds since 1970
 * @param differences each figure that both soaks have, in the order in which they are told
 * @param words all of it in a sentence
 */
public record SoakChanges(String soak, long startUs, List<Change> differences, String words) {
  private static final double NORMAL_95 = 1.959964;

  /**
   * One figure in both soaks.
   *
   * @param figure what it is, in words
   * @param unit of all numbers
   * @param was in the earlier soak
   * @param is in the newer
   * @param difference newer minus earlier; their own variances add, what both repeat drops out
   * @param beyondChance whether the difference is farther from zero than chance brings any of all
   *     these figures in 5 of 100 comparisons (Bonferroni)
   */
  public record Change(
      String figure,
      String unit,
      Estimate was,
      Estimate is,
      Estimate difference,
      boolean beyondChance) {

    private Change among(int figures) {
      double normal = new NormalDistribution().inverseCumulativeProbability(1 - 0.025 / figures);
      double half = (difference.high() - difference.low()) / 2 * normal / NORMAL_95;
      return new Change(figure, unit, was, is, difference, Math.abs(difference.value()) > half);
    }
  }

  /** The newest soak against the one before it; null where there is none. */
  public static SoakChanges newest(List<UnitSoak> newestFirst) {
    return newestFirst.size() < 2 ? null : of(newestFirst.get(0), newestFirst.get(1));
  }

  static SoakChanges of(UnitSoak now, UnitSoak before) {
    List<Change> changes = new ArrayList<>();
    SoakCurve a = SoakCurve.of(before);
    SoakCurve b = SoakCurve.of(now);
    Double atC = now.figures().operatingC();
    boolean both = atC != null && a.reaches(atC) && b.reaches(atC);
    for (int i = 0; both && i < b.axes().size(); i++) {
      String axis = now.figures().axes().get(i).axis();
      addTempco(changes, axis, a.axes().get(i), b.axes().get(i), atC);
    }
    add(changes, "level of the warm-up", "degC", before, now, SoakFigures::plateauC);
    add(changes, "time constant", "s", before, now, SoakFigures::measuredTimeConstantS);
    List<Change> judged = changes.stream().map(c -> c.among(changes.size())).toList();
    return new SoakChanges(before.soak().id(), before.soak().startUs(), judged, words(judged));
  }

  /** Both at one temperature; what both soaks repeat changes nothing. */
  private static void addTempco(
      List<Change> changes, String axis, AxisCurve before, AxisCurve now, double atC) {
    if (!before.known() || !now.known()) {
      return;
    }
    Part a = before.tempcoDpsPerC(atC);
    Part b = now.tempcoDpsPerC(atC);
    String figure = String.format(Locale.ROOT, "coefficient of %s at %.1f degC", axis, atC);
    changes.add(
        new Change(
            figure, "deg/s per degC", a.estimate(), b.estimate(), b.minus(a).estimate(), false));
  }

  private static void add(
      List<Change> changes,
      String figure,
      String unit,
      UnitSoak before,
      UnitSoak now,
      Function<SoakFigures, Estimate> of) {
    Estimate a = of.apply(before.figures());
    Estimate b = of.apply(now.figures());
    if (!a.known() || !b.known() || a.se() == null || b.se() == null) {
      return;
    }
    Estimate difference =
        Estimate.of(b.value() - a.value(), Math.hypot(a.se(), b.se()), quantile(a, b));
    changes.add(new Change(figure, unit, a, b, difference, false));
  }

  /** As far out as the wider of the two goes: of few readings it goes farther than a normal one. */
  private static double quantile(Estimate a, Estimate b) {
    return Math.max(NORMAL_95, Math.max(quantile(a), quantile(b)));
  }

  private static double quantile(Estimate e) {
    return e.se() > 0 ? (e.high() - e.low()) / (2 * e.se()) : NORMAL_95;
  }

  private static String words(List<Change> changes) {
    if (changes.isEmpty()) {
      return "no figure is known of both soaks, so nothing can be compared";
    }
    List<Change> changed = changes.stream().filter(Change::beyondChance).toList();
    if (changed.isEmpty()) {
      return "no change shown in any of " + changes.size() + " figures";
    }
    return String.join("; ", changed.stream().map(SoakChanges::words).toList())
        + (changed.size() < changes.size()
            ? "; no change shown in the other " + others(changes.size() - changed.size())
            : "");
  }

  private static String others(int count) {
    return count == 1 ? "one" : count + " figures";
  }

  private static String words(Change c) {
    int decimals = c.unit.equals("degC") ? 2 : c.unit.equals("s") ? 0 : 4;
    double half = (c.difference.high() - c.difference.low()) / 2;
    double step = Math.pow(10, -decimals);
    String number = "%." + decimals + "f";
    String plusMinus =
        half < step / 2
            ? "under " + String.format(Locale.ROOT, number, step)
            : String.format(Locale.ROOT, number, half);
    String format = "%s %+." + decimals + "f +- %s %s";
    return String.format(Locale.ROOT, format, c.figure, c.difference.value(), plusMinus, c.unit);
  }
}

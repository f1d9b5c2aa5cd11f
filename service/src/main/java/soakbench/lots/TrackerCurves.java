package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import soakbench.lots.TrackerFigures.NotUsed;
import soakbench.model.Estimate;
import soakbench.model.Soak;

/**
 * A unit's figures, with the curves that give its bias and coefficient at any temperature. Holds no
 * more of its soaks than that needs.
 *
 * @param figures at its own operating temperature: that of its newest soak with a curve
 * @param curves of the soaks that count and have one, the newest first
 * @param without the other soaks, and why each gives no curve
 */
public record TrackerCurves(TrackerFigures figures, List<SoakCurve> curves, List<NotUsed> without) {

  /** Noise of streams whose rates differ by a greater part is not that of one stream. */
  private static final double SAME_RATE = 0.1;

  /**
   * Puts a unit's soaks together.
   *
   * @param soaks at least one, all of one tracker
   */
  public static TrackerCurves of(List<UnitSoak> soaks) {
    List<UnitSoak> counted = UnitSoak.counted(soaks);
    List<UnitSoak> newestFirst = counted.isEmpty() ? List.of(withoutFigures(soaks)) : counted;
    List<NotUsed> without = new ArrayList<>();
    List<UnitSoak> curved = new ArrayList<>();
    for (UnitSoak soak : UnitSoak.newestFirst(soaks)) {
      String why = whyNoCurve(soak);
      if (why == null) {
        curved.add(soak);
      } else {
        without.add(new NotUsed(soak.soak().id(), why));
      }
    }
    List<SoakCurve> curves = curved.stream().map(SoakCurve::of).toList();
    TrackerFigures figures = figures(soaks, newestFirst, curved);
    TrackerCurves all = new TrackerCurves(figures, curves, List.copyOf(without));
    return new TrackerCurves(
        curved.isEmpty() ? all.none() : all.at(curved.get(0).figures().operatingC()),
        curves,
        all.without);
  }

  private static String whyNoCurve(UnitSoak soak) {
    if (soak.leftOut() != null) {
      return "left out of the figures: " + soak.leftOut();
    }
    return SoakCurve.of(soak).known()
        ? null
        : soak.figures().axes().get(0).tempcoDpsPerC().reason();
  }

  /** The newest of soaks that were all left out: it stays listed, but tells nothing. */
  private static UnitSoak withoutFigures(List<UnitSoak> leftOut) {
    UnitSoak newest = UnitSoak.newestFirst(leftOut).get(0);
    String which = leftOut.size() == 1 ? "its only soak is" : "all its soaks are";
    String why = which + " left out of the figures; of the newest it was said: ";
    SoakFigures none = SoakFigures.unknown(newest.figures().useC(), why + newest.leftOut());
    return new UnitSoak(newest.soak(), none, newest.leftOut());
  }

  /** All but bias, coefficient and turn-on, which depend on a temperature. */
  private static TrackerFigures figures(
      List<UnitSoak> all, List<UnitSoak> newestFirst, List<UnitSoak> curved) {
    SoakFigures newest = newestFirst.get(0).figures();
    List<AxisSummary> axes = new ArrayList<>();
    for (int i = 0; i < newest.axes().size(); i++) {
      axes.add(axis(i, newestFirst, curved.isEmpty() ? newestFirst.subList(0, 1) : curved));
    }
    int leftOut = all.size() - UnitSoak.counted(all).size();
    return new TrackerFigures(
        newestFirst.get(0).soak().tracker(),
        new TrackerFigures.Soaks(all.size(), 0, leftOut, List.of(), newestFirst.get(0).soak()),
        null,
        false,
        warmUp(newestFirst.stream().map(UnitSoak::figures).toList()),
        newest.sampleRateHz(),
        axes,
        new TrackerFigures.Use(newest.useC(), newest.degPerMin(), newest.minutesTo5Deg()));
  }

  private static TrackerFigures.WarmUp warmUp(List<SoakFigures> newestFirst) {
    Estimate plateauC = Combined.newestKnown(newestFirst, SoakFigures::plateauC);
    Estimate measured = Combined.of(newestFirst, SoakFigures::measuredTimeConstantS);
    if (measured.known()) {
      return new TrackerFigures.WarmUp(plateauC, measured, false);
    }
    Estimate believed = Combined.newestKnown(newestFirst, SoakFigures::timeConstantS);
    return new TrackerFigures.WarmUp(plateauC, believed, believed.known());
  }

  private static AxisSummary axis(int i, List<UnitSoak> newestFirst, List<UnitSoak> curved) {
    List<AxisFigures> sameRate =
        newestFirst.stream()
            .filter(s -> sameRate(s, newestFirst.get(0)))
            .map(s -> s.figures().axes().get(i))
            .toList();
    List<AxisFigures> curves = curved.stream().map(s -> s.figures().axes().get(i)).toList();
    AxisFigures newest = curves.get(0);
    return new AxisSummary(
        newest.axis(),
        new AxisSummary.Bias(
            newest.biasDps(),
            newest.tempcoDpsPerC(),
            newest.spanDps(),
            Combined.newestKnown(curves, AxisFigures::settlingDps),
            newest.residualSdDps()),
        newest.biasDps(),
        new AxisSummary.Noise(
            Combined.of(sameRate, AxisFigures::angleRandomWalkDegPerSqrtH),
            Combined.of(sameRate, AxisFigures::biasInstabilityDegPerH),
            Combined.of(sameRate, AxisFigures::rateRandomWalkDpsPerSqrtS)));
  }

  private static boolean sameRate(UnitSoak soak, UnitSoak newest) {
    Double a = soak.figures().sampleRateHz();
    Double b = newest.figures().sampleRateHz();
    return soak == newest || a != null && b != null && Math.abs(a - b) <= SAME_RATE * b;
  }

  /**
   * Its figures with bias, coefficient and turn-on repeatability at another temperature. Where no
   * soak has a curve, its figures as they are.
   *
   * @param temperatureC degC
   */
  public TrackerFigures at(double temperatureC) {
    if (curves.isEmpty()) {
      return figures;
    }
    CurvesAt at = CurvesAt.of(curves, temperatureC);
    List<AxisSummary> axes = new ArrayList<>();
    for (int i = 0; i < figures.axes().size(); i++) {
      axes.add(axis(i, at));
    }
    List<NotUsed> notUsed = new ArrayList<>(at.notUsed());
    notUsed.addAll(without);
    return with(temperatureC, at.extrapolated(), at.used().size(), notUsed, axes);
  }

  private TrackerFigures none() {
    return with(null, false, 0, without, figures.axes());
  }

  private AxisSummary axis(int i, CurvesAt at) {
    AxisSummary own = figures.axes().get(i);
    return new AxisSummary(
        own.axis(),
        new AxisSummary.Bias(
            at.biasDps(i),
            at.tempcoDpsPerC(i),
            own.bias().spanDps(),
            own.bias().settlingDps(),
            own.bias().residualSdDps()),
        at.turnOnDps(i),
        own.noise());
  }

  private TrackerFigures with(
      Double temperatureC,
      boolean extrapolated,
      int used,
      List<NotUsed> notUsed,
      List<AxisSummary> axes) {
    TrackerFigures f = figures;
    TrackerFigures.Soaks soaks =
        new TrackerFigures.Soaks(
            f.soaks().count(), used, f.soaks().leftOut(), List.copyOf(notUsed), f.soaks().newest());
    return new TrackerFigures(
        f.tracker(),
        soaks,
        temperatureC,
        extrapolated,
        f.warmUp(),
        f.sampleRateHz(),
        List.copyOf(axes),
        f.use());
  }

  /** The same with its newest soak as that stands now. */
  public TrackerCurves withNewest(Soak newest) {
    return new TrackerCurves(figures.withNewest(newest), curves, without);
  }
}

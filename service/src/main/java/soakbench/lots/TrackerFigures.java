package soakbench.lots;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import soakbench.model.Estimate;
import soakbench.model.Soak;

/**
 * A unit's figures from all its soaks: several soaks of one unit are one unit.
 *
 * @param tracker its id
 * @param soaks which soaks it had
 * @param operatingC temperature at which bias and coefficient are given, degC; null without a curve
 * @param warmUp how it warms up
 * @param sampleRateHz of the newest soak; null where not known
 * @param axes x, y, z
 * @param use what a calibration at the newest temperature costs in use, of the newest soak
 */
public record TrackerFigures(
    String tracker,
    Soaks soaks,
    Double operatingC,
    WarmUp warmUp,
    Double sampleRateHz,
    List<AxisSummary> axes,
    Use use) {

  /**
   * A unit's soaks.
   *
   * @param count how many it had
   * @param used how many of them gave a bias curve at the operating temperature
   * @param leftOut how many people left out of the figures
   * @param newest its newest soak that counts; where none does, its newest
   */
  public record Soaks(int count, int used, int leftOut, Soak newest) {}

  /**
   * How a unit warms up.
   *
   * @param plateauC of the newest soak that shows one, degC
   * @param timeConstantS of the body, s, from all soaks
   */
  public record WarmUp(Estimate plateauC, Estimate timeConstantS) {}

  /**
   * What a calibration costs in use.
   *
   * @param useC temperature in use, degC
   * @param degPerMin heading error rate there, deg/min
   * @param minutesTo5Deg minutes until five degrees of error
   */
  public record Use(double useC, Estimate degPerMin, Estimate minutesTo5Deg) {}

  /** Coefficients and biases of temperatures further apart are not those of one temperature. */
  static final double SAME_TEMPERATURE_C = 0.5;

  /** Noise of streams whose rates differ by a greater part is not that of one stream. */
  private static final double SAME_RATE = 0.1;

  /** Faces whose directions of gravity differ by less are the same one. */
  private static final double SAME_FACE_COS = Math.cos(Math.toRadians(15));

  /**
   * Puts a unit's soaks together.
   *
   * @param soaks at least one, all of one tracker
   */
  public static TrackerFigures of(List<UnitSoak> soaks) {
    List<UnitSoak> counted = counted(soaks);
    List<UnitSoak> newestFirst = counted.isEmpty() ? List.of(withoutFigures(soaks)) : counted;
    UnitSoak newest = newestFirst.get(0);
    List<UnitSoak> curved =
        newestFirst.stream().filter(s -> s.figures().operatingC() != null).toList();
    Double operatingC = curved.isEmpty() ? null : curved.get(0).figures().operatingC();
    List<UnitSoak> used = curved.stream().filter(s -> sameTemperature(s, operatingC)).toList();
    List<AxisSummary> axes = new ArrayList<>();
    for (int i = 0; i < newest.figures().axes().size(); i++) {
      axes.add(axis(i, newestFirst, used));
    }
    return new TrackerFigures(
        newest.soak().tracker(),
        new Soaks(soaks.size(), used.size(), soaks.size() - counted.size(), newest.soak()),
        operatingC,
        new WarmUp(
            newestKnown(newestFirst, SoakFigures::plateauC),
            combined(newestFirst, SoakFigures::timeConstantS)),
        newest.figures().sampleRateHz(),
        List.copyOf(axes),
        new Use(
            newest.figures().useC(),
            newest.figures().degPerMin(),
            newest.figures().minutesTo5Deg()));
  }

  /** Those of a unit's soaks that were not left out of its figures, the newest first. */
  public static List<UnitSoak> counted(List<UnitSoak> soaks) {
    return newestFirst(soaks).stream().filter(s -> s.leftOut() == null).toList();
  }

  private static List<UnitSoak> newestFirst(List<UnitSoak> soaks) {
    return soaks.stream()
        .sorted(Comparator.comparingLong((UnitSoak s) -> s.soak().startUs()).reversed())
        .toList();
  }

  /** The newest of soaks that were all left out: it stays listed, but tells nothing. */
  private static UnitSoak withoutFigures(List<UnitSoak> leftOut) {
    UnitSoak newest = newestFirst(leftOut).get(0);
    String which = leftOut.size() == 1 ? "its only soak is" : "all its soaks are";
    String why = which + " left out of the figures; of the newest it was said: ";
    SoakFigures none = SoakFigures.unknown(newest.figures().useC(), why + newest.leftOut());
    return new UnitSoak(newest.soak(), none, newest.leftOut());
  }

  /** The coefficient of greatest magnitude among the three axes, deg/s per degC. */
  public Estimate greatestTempcoDpsPerC() {
    return axes.stream()
        .map(axis -> axis.bias().tempcoDpsPerC())
        .filter(Estimate::known)
        .max(Comparator.comparingDouble(e -> Math.abs(e.value())))
        .orElse(axes.get(0).bias().tempcoDpsPerC());
  }

  /** The newest bias curve against each earlier one; none where there is no earlier soak. */
  public static List<CurveDifference> curves(List<UnitSoak> newestFirst) {
    return newestFirst.stream()
        .skip(1)
        .map(earlier -> CurveDifference.of(newestFirst.get(0), earlier))
        .toList();
  }

  private static boolean sameTemperature(UnitSoak soak, double operatingC) {
    return Math.abs(soak.figures().operatingC() - operatingC) <= SAME_TEMPERATURE_C;
  }

  private static AxisSummary axis(int i, List<UnitSoak> all, List<UnitSoak> used) {
    List<UnitSoak> curves = used.isEmpty() ? all.subList(0, 1) : used;
    List<UnitSoak> sameRate = all.stream().filter(s -> sameRate(s, all.get(0))).toList();
    AxisFigures newest = curves.get(0).figures().axes().get(i);
    return new AxisSummary(
        newest.axis(),
        new AxisSummary.Bias(
            combined(sameFace(curves), f -> f.axes().get(i).biasDps()),
            combined(curves, f -> f.axes().get(i).tempcoDpsPerC()),
            newest.spanDps(),
            newestKnown(curves, f -> f.axes().get(i).settlingDps()),
            newest.residualSdDps()),
        turnOn(curves, i),
        new AxisSummary.Noise(
            combined(sameRate, f -> f.axes().get(i).angleRandomWalkDegPerSqrtH()),
            combined(sameRate, f -> f.axes().get(i).biasInstabilityDegPerH()),
            combined(sameRate, f -> f.axes().get(i).rateRandomWalkDpsPerSqrtS())));
  }

  private static Estimate turnOn(List<UnitSoak> curves, int axis) {
    Function<SoakFigures, Estimate> bias = f -> f.axes().get(axis).biasDps();
    Estimate newest = bias.apply(curves.get(0).figures());
    return newest.known()
        ? TurnOn.repeatability(measured(sameFace(curves), bias))
        : Estimate.unknown(newest.reason());
  }

  private static boolean sameRate(UnitSoak soak, UnitSoak newest) {
    Double a = soak.figures().sampleRateHz();
    Double b = newest.figures().sampleRateHz();
    return soak == newest || a != null && b != null && Math.abs(a - b) <= SAME_RATE * b;
  }

  /**
   * Those that lay like the newest: another face has another bias. Where nothing tells how they
   * lay, all of them.
   */
  private static List<UnitSoak> sameFace(List<UnitSoak> soaks) {
    double[] face = soaks.get(0).figures().restingG();
    return soaks.stream().filter(s -> sameFace(face, s.figures().restingG())).toList();
  }

  private static boolean sameFace(double[] a, double[] b) {
    if (a == null || b == null) {
      return true;
    }
    double dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    return dot >= SAME_FACE_COS * length(a) * length(b);
  }

  private static double length(double[] v) {
    return Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
  }

  private static Estimate newestKnown(
      List<UnitSoak> newestFirst, Function<SoakFigures, Estimate> figure) {
    return newestFirst.stream()
        .map(s -> figure.apply(s.figures()))
        .filter(Estimate::known)
        .findFirst()
        .orElseGet(() -> figure.apply(newestFirst.get(0).figures()));
  }

  /** One soak's figure as it is; several by the random-effects model; none with its reason. */
  private static Estimate combined(
      List<UnitSoak> newestFirst, Function<SoakFigures, Estimate> figure) {
    List<Estimate> measured = measured(newestFirst, figure);
    return measured.size() < 2
        ? newestKnown(newestFirst, figure)
        : RandomEffects.of(measured).estimate();
  }

  private static List<Estimate> measured(
      List<UnitSoak> soaks, Function<SoakFigures, Estimate> figure) {
    return soaks.stream()
        .map(s -> figure.apply(s.figures()))
        .filter(e -> e.known() && e.se() != null && e.se() > 0)
        .toList();
  }
}

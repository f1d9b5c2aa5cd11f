package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import soakbench.lots.AxisSummary;
import soakbench.lots.TrackerFigures;
import soakbench.lots.compare.Metric.Kind;
import soakbench.model.Axes;
import soakbench.model.Estimate;
import soakbench.readiness.CalibrationCheck;

/** All figures by which units are compared, under the names of the columns of figures. */
public final class Metrics {
  /** By which lots are compared where nobody says. */
  public static final String DEFAULT = "greatest_tempco_dps_per_c";

  private static final String SLOPE = "deg/s per degC";
  private static final String ERROR_RATE = "deg/min";
  private static final Estimate UNCHECKED =
      Estimate.unknown("no calibration of it was checked yet");

  private static final Map<String, Metric> ALL = all();

  private Metrics() {}

  /** All of them by name, in the order in which people read them. */
  public static Map<String, Metric> byName() {
    return ALL;
  }

  /**
   * Those that people look at together: the same figure of the other axes, and of a coefficient the
   * greatest of them.
   */
  public static List<Metric> family(Metric metric) {
    String stem = stem(metric.name());
    return ALL.values().stream().filter(m -> stem(m.name()).equals(stem)).toList();
  }

  private static String stem(String name) {
    return name.startsWith("greatest_")
        ? name.substring("greatest_".length())
        : name.replaceFirst("_[xyz]_", "_");
  }

  private static Map<String, Metric> all() {
    List<Metric> all = new ArrayList<>();
    all.add(
        Metric.magnitude(
            DEFAULT,
            SLOPE,
            "coefficients",
            Kind.WORST,
            figures(TrackerFigures::greatestTempcoDpsPerC)));
    for (int axis = 0; axis < Axes.NAMES.size(); axis++) {
      curves(all, Axes.NAMES.get(axis), axis);
    }
    for (int axis = 0; axis < Axes.NAMES.size(); axis++) {
      noises(all, Axes.NAMES.get(axis), axis);
    }
    all.add(metric("time_constant_s", "s", "time constants", Kind.SCALE, Metrics::timeConstant));
    all.add(metric("plateau_c", "degC", "plateaus", Kind.LEVEL, f -> f.warmUp().plateauC()));
    all.add(
        Metric.magnitude(
            "deg_per_min",
            ERROR_RATE,
            "heading errors in use",
            Kind.WORST,
            figures(f -> f.use().degPerMin())));
    all.add(check("check_deg_per_min", "check residuals", CalibrationCheck::degPerMin));
    all.add(
        check(
            "check_deg_per_min_in_use",
            "check residuals in use",
            CalibrationCheck::degPerMinInUse));
    Map<String, Metric> byName = new LinkedHashMap<>();
    all.forEach(m -> byName.put(m.name(), m));
    return Collections.unmodifiableMap(byName);
  }

  private static void curves(List<Metric> all, String axis, int i) {
    all.add(
        onAxis(
            "tempco_%s_dps_per_c",
            SLOPE, "coefficients", Kind.SIGNED, axis, i, a -> a.bias().tempcoDpsPerC()));
    all.add(
        onAxis("bias_%s_dps", "deg/s", "biases", Kind.SIGNED, axis, i, a -> a.bias().biasDps()));
    all.add(onAxis("span_%s_dps", "deg/s", "spans", Kind.SCALE, axis, i, a -> a.bias().spanDps()));
    all.add(
        onAxis(
            "settling_%s_dps",
            "deg/s", "settlings", Kind.SIGNED, axis, i, a -> a.bias().settlingDps()));
    all.add(
        onAxis("residual_sd_%s_dps", "deg/s", "residuals", Kind.SCALE, axis, i, Metrics::residual));
    all.add(
        onAxis(
            "turn_on_%s_dps",
            "deg/s", "turn-on spreads", Kind.SCALE, axis, i, AxisSummary::turnOnDps));
  }

  private static void noises(List<Metric> all, String axis, int i) {
    all.add(
        onAxis(
            "angle_random_walk_%s_deg_per_sqrt_h",
            "deg/sqrt(h)",
            "angle random walks",
            Kind.SCALE,
            axis,
            i,
            a -> a.noise().angleRandomWalkDegPerSqrtH()));
    all.add(
        onAxis(
            "bias_instability_%s_deg_per_h",
            "deg/h",
            "bias instabilities",
            Kind.SCALE,
            axis,
            i,
            a -> a.noise().biasInstabilityDegPerH()));
    all.add(
        onAxis(
            "rate_random_walk_%s_dps_per_sqrt_s",
            "deg/s/sqrt(s)",
            "rate random walks",
            Kind.SCALE,
            axis,
            i,
            a -> a.noise().rateRandomWalkDpsPerSqrtS()));
  }

  /** Whether it is read off a stream's noise, which depends on how often that is printed. */
  public static boolean ofNoise(Metric metric) {
    return metric.name().contains("random_walk") || metric.name().startsWith("bias_instability");
  }

  /** Whether it is a figure at a temperature: of a bias curve. */
  public static boolean atTemperature(Metric metric) {
    return metric.name().contains("tempco") || metric.name().matches("bias_[xyz]_dps");
  }

  /** One that is only believed of any body says nothing about a unit. */
  private static Estimate timeConstant(TrackerFigures figures) {
    return figures.warmUp().timeConstantPriorOnly()
        ? Estimate.unknown("no soak shows it; what is believed of any body is not compared")
        : figures.warmUp().timeConstantS();
  }

  private static Estimate residual(AxisSummary axis) {
    Double sd = axis.bias().residualSdDps();
    return sd == null
        ? Estimate.unknown(
            axis.bias().tempcoDpsPerC().known()
                ? "no residual is known"
                : axis.bias().tempcoDpsPerC().reason())
        : new Estimate(sd, null, null, null, null);
  }

  private static Metric onAxis(
      String name,
      String unit,
      String words,
      Kind kind,
      String axis,
      int i,
      Function<AxisSummary, Estimate> of) {
    return metric(
        name.formatted(axis), unit, words + " of " + axis, kind, f -> of.apply(f.axes().get(i)));
  }

  private static Metric metric(
      String name, String unit, String words, Kind kind, Function<TrackerFigures, Estimate> of) {
    return new Metric(name, unit, words, kind, figures(of));
  }

  private static Metric check(String name, String words, Function<CalibrationCheck, Estimate> of) {
    return Metric.magnitude(
        name,
        ERROR_RATE,
        words,
        Kind.WORST,
        u -> u.check() == null ? UNCHECKED : of.apply(u.check()));
  }

  private static Function<LotUnit, Estimate> figures(Function<TrackerFigures, Estimate> of) {
    return unit -> of.apply(unit.figures());
  }
}

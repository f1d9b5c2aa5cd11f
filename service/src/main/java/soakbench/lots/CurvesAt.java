package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import soakbench.model.Estimate;

/**
 * A unit's bias curves at one temperature: those soaks that reach it, together. Where none does,
 * all of them, extrapolated: a curve's interval widens with the distance, by the power of the
 * temperature that it leaves out.
 *
 * @param temperatureC degC
 * @param extrapolated whether no soak that is used covered it
 * @param used the newest first
 * @param notUsed the others that have a curve
 */
record CurvesAt(
    double temperatureC,
    boolean extrapolated,
    List<SoakCurve> used,
    List<TrackerFigures.NotUsed> notUsed) {

  /**
   * Takes them.
   *
   * @param curves of the soaks that have one, the newest first; at least one
   */
  static CurvesAt of(List<SoakCurve> curves, double temperatureC) {
    List<SoakCurve> reaching = curves.stream().filter(c -> c.reaches(temperatureC)).toList();
    List<SoakCurve> used = reaching.isEmpty() ? curves : reaching;
    List<TrackerFigures.NotUsed> notUsed = new ArrayList<>();
    for (SoakCurve curve : curves) {
      if (!used.contains(curve)) {
        String why = String.format(Locale.ROOT, "%s, not %.2f", curve.range(), temperatureC);
        notUsed.add(new TrackerFigures.NotUsed(curve.soak(), why));
      }
    }
    boolean covered = used.stream().anyMatch(c -> c.covers(temperatureC));
    return new CurvesAt(temperatureC, !covered, used, List.copyOf(notUsed));
  }

  /** Bias of those that lay like the newest, deg/s. */
  Estimate biasDps(int axis) {
    return together(axis, biases(axis));
  }

  /** Slope, deg/s per degC. */
  Estimate tempcoDpsPerC(int axis) {
    return together(axis, parts(used, axis, c -> c.tempcoDpsPerC(temperatureC)));
  }

  /** Repeatability of the bias from one power-up to the next, deg/s. */
  Estimate turnOnDps(int axis) {
    AxisCurve newest = used.get(0).axes().get(axis);
    return newest.known() ? TurnOn.repeatability(biases(axis)) : Estimate.unknown(newest.reason());
  }

  private List<Part> biases(int axis) {
    List<SoakCurve> sameFace = used.stream().filter(c -> c.sameFace(used.get(0))).toList();
    return parts(sameFace, axis, c -> c.biasDps(temperatureC));
  }

  private static List<Part> parts(
      List<SoakCurve> soaks, int axis, Function<AxisCurve, Part> figure) {
    return soaks.stream()
        .map(s -> s.axes().get(axis))
        .filter(AxisCurve::known)
        .map(figure)
        .toList();
  }

  private Estimate together(int axis, List<Part> parts) {
    return switch (parts.size()) {
      case 0 -> Estimate.unknown(used.get(0).axes().get(axis).reason());
      case 1 -> parts.get(0).estimate();
      default -> RandomEffects.of(parts).estimate();
    };
  }
}

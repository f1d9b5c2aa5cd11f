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
    return together(sameFace(), c -> c.axes().get(axis).biasDps(temperatureC));
  }

  /** Slope, deg/s per degC. */
  Estimate tempcoDpsPerC(int axis) {
    return together(used, c -> c.axes().get(axis).tempcoDpsPerC(temperatureC));
  }

  /** Repeatability of the bias from one power-up to the next, deg/s. */
  Estimate turnOnDps(int axis) {
    Estimate newest = used.get(0).axes().get(axis).biasDps(temperatureC);
    return newest.known()
        ? TurnOn.repeatability(
            Combined.measured(sameFace(), c -> c.axes().get(axis).biasDps(temperatureC)))
        : newest;
  }

  private List<SoakCurve> sameFace() {
    return used.stream().filter(c -> c.sameFace(used.get(0))).toList();
  }

  private static Estimate together(List<SoakCurve> curves, Function<SoakCurve, Estimate> figure) {
    return Combined.of(curves, figure);
  }
}

package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import soakbench.model.Estimate;

/**
 * How a soak's bias curves differ from those of an earlier one, over the temperatures that both
 * covered. The offset between them is left out: it is what a power-up and a pose bring, and has its
 * own figure. All differences are the newer soak's minus the earlier's; what both repeat (the lag,
 * the power left out) drops out of them as far as it is the same in both.
 *
 * @param soak the earlier soak
 * @param lowC from here, degC; null where the soaks share no range
 * @param highC to here, degC; null where the soaks share no range
 * @param atC temperature at which the slopes are compared, degC; null where the soaks share no
 *     range
 * @param extrapolated whether that is outside of what both covered
 * @param axes x, y, z
 */
public record CurveDifference(
    String soak, Double lowC, Double highC, Double atC, boolean extrapolated, List<OfAxis> axes) {
  private static final double LEAST_SHARED_C = 0.5;
  private static final double NORMAL_95 = 1.959964;
  private static final int STEPS = 24;

  /**
   * How the curves of an axis differ.
   *
   * @param axis x, y or z
   * @param tempcoDifferenceDpsPerC newer slope minus earlier, deg/s per degC
   * @param fromC where the curves part most: from here, degC; null where they are not compared
   * @param toC to here, warmer, degC
   * @param greatestDps how much more the newer bias rises than the earlier between the two, deg/s.
   *     Its limits hold for all pairs of temperatures at once (Scheffe, 1953, Biometrika 40, 87 to
   *     104), so where they leave out zero the shapes differ
   */
  public record OfAxis(
      String axis,
      Estimate tempcoDifferenceDpsPerC,
      Double fromC,
      Double toC,
      Estimate greatestDps) {}

  /**
   * The newest bias curve against each earlier one; none where there is no earlier soak.
   *
   * @param atC where the slopes are compared, degC; null for the newest's operating temperature, or
   *     the end of the shared range nearest to it
   */
  public static List<CurveDifference> each(List<UnitSoak> newestFirst, Double atC) {
    return newestFirst.stream()
        .skip(1)
        .map(earlier -> of(newestFirst.get(0), earlier, atC))
        .toList();
  }

  static CurveDifference of(UnitSoak newer, UnitSoak earlier, Double atC) {
    SoakCurve a = SoakCurve.of(newer);
    SoakCurve b = SoakCurve.of(earlier);
    if (a.lowC() == null || b.lowC() == null) {
      return none(newer, earlier, "one of the soaks has no curve");
    }
    double lowC = Math.max(a.lowC(), b.lowC());
    double highC = Math.min(a.highC(), b.highC());
    if (highC - lowC < LEAST_SHARED_C) {
      String ranges = "the soaks share no %.1f degC: %.1f to %.1f and %.1f to %.1f";
      return none(
          newer,
          earlier,
          String.format(
              Locale.ROOT, ranges, LEAST_SHARED_C, a.lowC(), a.highC(), b.lowC(), b.highC()));
    }
    double operatingC = newer.figures().operatingC();
    double where = atC != null ? atC : Math.max(lowC, Math.min(highC, operatingC));
    List<OfAxis> axes = new ArrayList<>();
    for (int i = 0; i < a.axes().size(); i++) {
      String name = newer.figures().axes().get(i).axis();
      axes.add(axis(name, a.axes().get(i), b.axes().get(i), where, lowC, highC));
    }
    boolean outside = where < lowC || where > highC;
    return new CurveDifference(b.soak(), lowC, highC, where, outside, List.copyOf(axes));
  }

  private static CurveDifference none(UnitSoak newer, UnitSoak earlier, String reason) {
    List<OfAxis> axes =
        newer.figures().axes().stream().map(axis -> unknown(axis.axis(), reason)).toList();
    return new CurveDifference(earlier.soak().id(), null, null, null, false, axes);
  }

  private static OfAxis unknown(String axis, String reason) {
    Estimate none = Estimate.unknown(reason);
    return new OfAxis(axis, none, null, null, none);
  }

  private static OfAxis axis(
      String name, AxisCurve a, AxisCurve b, double atC, double lowC, double highC) {
    if (!a.known() || !b.known()) {
      return unknown(name, "one of the soaks has no curve of this axis");
    }
    Part slope = a.tempcoDpsPerC(atC).minus(b.tempcoDpsPerC(atC));
    double[] where = partsMost(a, b, lowC, highC);
    Part rise = a.riseDps(where[0], where[1]).minus(b.riseDps(where[0], where[1]));
    Estimate greatest =
        Estimate.of(rise.value(), Math.sqrt(rise.variance()), simultaneous(a, b, rise));
    return new OfAxis(name, slope.estimate(), where[0], where[1], greatest);
  }

  /** The two temperatures, the colder first, between which the curves part most, degC. */
  private static double[] partsMost(AxisCurve a, AxisCurve b, double lowC, double highC) {
    double[] where = {lowC, highC};
    double[] apart = new double[STEPS + 1];
    double most = 0;
    for (int i = 0; i <= STEPS; i++) {
      double celsius = lowC + (highC - lowC) * i / STEPS;
      apart[i] = a.riseDps(lowC, celsius).value() - b.riseDps(lowC, celsius).value();
      for (int k = 0; k < i; k++) {
        if (Math.abs(apart[i] - apart[k]) > most) {
          most = Math.abs(apart[i] - apart[k]);
          where[0] = lowC + (highC - lowC) * k / STEPS;
          where[1] = celsius;
        }
      }
    }
    return where;
  }

  /** For all that the powers of both curves, and the one that is left out, can do. */
  private static double simultaneous(AxisCurve a, AxisCurve b, Part rise) {
    int powers = Math.max(a.powers().order(), b.powers().order()) + 1;
    double scheffe =
        Math.sqrt(new ChiSquaredDistribution(powers).inverseCumulativeProbability(0.95));
    return scheffe * rise.limitsSe() / NORMAL_95;
  }
}

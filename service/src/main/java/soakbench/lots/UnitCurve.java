package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveReading;
import soakbench.drift.curve.LookUpTable;
import soakbench.model.Estimate;

/**
 * One bias curve of a unit from all its soaks: the weighted mean of their coefficients about one
 * temperature, so that one covariance belongs to all that is read off it. A soak counts by how well
 * it knows the slope over the whole range that any of them covered; in the level, only those count
 * that lay like the newest.
 */
public final class UnitCurve {
  private static final String OF_ONE_SOAK =
      "of one soak, not of all together: ask for a soak's curve";

  private final List<SoakCurve> soaks;
  private final double referenceC;
  private final double[] rangeC;

  private UnitCurve(List<SoakCurve> soaks, double referenceC) {
    this.soaks = soaks;
    this.referenceC = referenceC;
    this.rangeC =
        new double[] {
          soaks.stream().mapToDouble(SoakCurve::lowC).min().orElseThrow(),
          soaks.stream().mapToDouble(SoakCurve::highC).max().orElseThrow()
        };
  }

  /**
   * The curve of all soaks together, about the newest's operating temperature.
   *
   * @param counted a unit's soaks that count, the newest first
   * @param fromC lowest temperature of the bands, degC; null for the covered range's end
   * @param toC highest, degC; null likewise
   * @param points of the bands, at least 2
   */
  public static BiasCurve of(List<UnitSoak> counted, Double fromC, Double toC, int points) {
    List<UnitSoak> curved = counted.stream().filter(s -> SoakCurve.of(s).known()).toList();
    if (curved.isEmpty()) {
      return BiasCurve.unknown(
          counted.isEmpty()
              ? "all its soaks are left out of the figures"
              : counted.get(0).figures().axes().get(0).tempcoDpsPerC().reason());
    }
    UnitCurve curve =
        new UnitCurve(
            curved.stream().map(SoakCurve::of).toList(), curved.get(0).figures().operatingC());
    double low = fromC == null ? curve.rangeC[0] : fromC;
    double high = toC == null ? curve.rangeC[1] : toC;
    List<BiasCurve.Axis> axes = new ArrayList<>();
    for (int i = 0; i < curve.soaks.get(0).axes().size(); i++) {
      axes.add(curve.axis(i, curved.get(0).figures().axes().get(i), low, high, points));
    }
    return new BiasCurve(
        new BiasCurve.Temperatures(curve.referenceC, curve.referenceC, curve.rangeC),
        new BiasCurve.Basis(null, null, null),
        axes,
        note(curved.size(), counted.size()),
        null);
  }

  private static String note(int used, int counted) {
    return String.format(
        Locale.ROOT,
        "of %d of %d soaks together; the bias is that of those that lay like the newest",
        used,
        counted);
  }

  private BiasCurve.Axis axis(int i, AxisFigures newest, double fromC, double toC, int points) {
    List<SoakCurve> known = soaks.stream().filter(s -> s.axes().get(i).known()).toList();
    if (known.isEmpty()) {
      return BiasCurve.Axis.unknown(newest.axis(), soaks.get(0).axes().get(i).reason());
    }
    Function<SoakCurve, AxisCurve> ofAxis = s -> s.axes().get(i);
    BiasCurve.Powers powers = new MeanPowers(known, ofAxis, referenceC, rangeC).powers();
    Double residual = newest.residualSdDps();
    CurveReading reading =
        new CurveReading(powers, referenceC, rangeC, residual == null ? 0 : residual);
    Estimate none = Estimate.unknown(OF_ONE_SOAK);
    return new BiasCurve.Axis(
        newest.axis(),
        powers,
        new BiasCurve.Figures(
            reading.tempcoDpsPerC(referenceC), reading.spanDps(), none, none, none, residual),
        reading.bands(fromC, toC, points),
        List.of(),
        LookUpTable.of(referenceC, rangeC, powers, points).worstErrorDps(),
        null);
  }
}

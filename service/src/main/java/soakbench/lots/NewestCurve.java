package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A unit's newest bias curve, as it is drawn over those of others: as the difference from its bias
 * at a common temperature, so that curves of units with different biases lie on one another.
 */
public final class NewestCurve {
  private final SoakCurve curve;

  private NewestCurve(SoakCurve curve) {
    this.curve = curve;
  }

  /** The curve of the newest soak that counts and has one; empty where none does. */
  public static Optional<NewestCurve> of(TrackerCurves unit) {
    return unit.curves().stream().findFirst().map(NewestCurve::new);
  }

  /** The id of its soak. */
  public String soak() {
    return curve.soak();
  }

  /** Lowest temperature covered, degC. */
  public double lowC() {
    return curve.lowC();
  }

  /** Highest temperature covered, degC. */
  public double highC() {
    return curve.highC();
  }

  /**
   * Why nothing can be told against a temperature; null where it can.
   *
   * @param referenceC degC
   */
  public String reason(double referenceC) {
    return curve.reaches(referenceC)
        ? null
        : "%s, not %.1f degC".formatted(curve.range(), referenceC);
  }

  /**
   * Bias less bias at a temperature, deg/s; an entry for each temperature, null beyond what was
   * covered, and all null where the reference was not covered or the axis has no curve.
   *
   * @param axis 0 to 2
   * @param referenceC degC
   * @param temperaturesC degC
   */
  public List<Double> differencesDps(int axis, double referenceC, double[] temperaturesC) {
    AxisCurve of = curve.axes().get(axis);
    boolean known = of.known() && curve.reaches(referenceC);
    List<Double> differences = new ArrayList<>();
    for (double t : temperaturesC) {
      boolean told = known && curve.covers(t);
      differences.add(told ? of.biasDps(t).value() - of.biasDps(referenceC).value() : null);
    }
    return differences;
  }
}

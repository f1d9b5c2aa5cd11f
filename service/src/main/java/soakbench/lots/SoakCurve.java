package soakbench.lots;

import java.util.List;
import java.util.Locale;

/**
 * One soak's bias curves, as far as a unit's figures at any temperature need them.
 *
 * @param soak its id
 * @param lowC lowest temperature covered, degC; null without a curve
 * @param highC highest temperature covered, degC; null without a curve
 * @param restingG gravity in the newest still minute, g, x y z; null without an accelerometer
 * @param axes x, y, z
 */
record SoakCurve(String soak, Double lowC, Double highC, double[] restingG, List<AxisCurve> axes) {
  /** A curve says something about temperatures so little outside of what it covered. */
  private static final double REACHES_C = 0.5;

  /** Faces whose directions of gravity differ by less are the same one. */
  private static final double SAME_FACE_COS = Math.cos(Math.toRadians(15));

  static SoakCurve of(UnitSoak soak) {
    SoakFigures figures = soak.figures();
    double referenceC = figures.operatingC() == null ? Double.NaN : figures.operatingC();
    List<AxisCurve> axes = figures.axes().stream().map(a -> AxisCurve.of(referenceC, a)).toList();
    return new SoakCurve(
        soak.soak().id(), figures.lowC(), figures.highC(), figures.restingG(), axes);
  }

  /** Whether any axis has a curve. */
  boolean known() {
    return lowC != null && axes.stream().anyMatch(AxisCurve::known);
  }

  /** Whether the temperature was covered. */
  boolean covers(double temperatureC) {
    return known() && temperatureC >= lowC && temperatureC <= highC;
  }

  /** Whether it was covered, or so nearly that the curve still tells about it. */
  boolean reaches(double temperatureC) {
    return known() && temperatureC >= lowC - REACHES_C && temperatureC <= highC + REACHES_C;
  }

  String range() {
    return String.format(Locale.ROOT, "it covered %.1f to %.1f degC", lowC, highC);
  }

  /** Whether it lay like another: another face has another bias. True where nothing tells. */
  boolean sameFace(SoakCurve other) {
    double[] a = restingG;
    double[] b = other.restingG;
    if (a == null || b == null) {
      return true;
    }
    double dot = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    return dot >= SAME_FACE_COS * length(a) * length(b);
  }

  private static double length(double[] v) {
    return Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
  }
}

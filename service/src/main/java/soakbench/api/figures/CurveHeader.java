package soakbench.api.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.LookUpTable;

/** A bias curve as a C99 header without includes: coefficients, look-up table, one function. */
final class CurveHeader {
  private static final String HEAD =
      """
      /* Bias against temperature of %1$s, from %2$s.
       * Covered: %3$s to %4$s degC. Outside, the function below answers for the nearer end.
       * The first coefficient holds in the pose in which the tracker lay last.
       * Greatest error of interpolating the table: %5$s deg/s. Greatest standard error of the curve
       * itself: %12$s deg/s; its 95 %% limits are %13$.2f standard errors to either side. */
      #ifndef SOAKBENCH_BIAS_CURVE_H
      #define SOAKBENCH_BIAS_CURVE_H

      #define SOAKBENCH_POINTS %6$d
      #define SOAKBENCH_POWERS %7$d
      #define SOAKBENCH_LOW_C %8$s
      #define SOAKBENCH_STEP_C %9$s
      #define SOAKBENCH_REFERENCE_C %10$s
      #define SOAKBENCH_WORST_ERROR_DPS %11$s
      #define SOAKBENCH_WORST_STANDARD_ERROR_DPS %14$s
      #define SOAKBENCH_LIMITS_SE %15$s

      """;

  private static final String FUNCTION =
      """

      /* Bias, deg/s, of an axis (0 x, 1 y, 2 z) at a temperature, degC, from the table. */
      static inline double soakbench_bias_dps_at(int axis, double temperature_c)
      {
        double place = (temperature_c - SOAKBENCH_LOW_C) / SOAKBENCH_STEP_C;
        int i;
        if (!(place > 0.0)) {
          return (double)soakbench_bias_dps[axis][0];
        }
        if (place >= (double)(SOAKBENCH_POINTS - 1)) {
          return (double)soakbench_bias_dps[axis][SOAKBENCH_POINTS - 1];
        }
        i = (int)place;
        return (double)soakbench_bias_dps[axis][i]
            + (place - (double)i)
                * ((double)soakbench_bias_dps[axis][i + 1] - (double)soakbench_bias_dps[axis][i]);
      }

      #endif
      """;

  private CurveHeader() {}

  /**
   * The header's text.
   *
   * @param from what the curve is from, in words
   * @param curve one that there is
   * @param points of the table, at least 2
   */
  static String text(String tracker, String from, BiasCurve curve, int points) {
    List<LookUpTable> tables = new ArrayList<>();
    Worst worst = new Worst(0, 0, 0, 1);
    for (BiasCurve.Axis axis : curve.axes()) {
      LookUpTable table =
          LookUpTable.of(
              curve.temperatures().referenceC(),
              curve.temperatures().rangeC(),
              axis.powers(),
              points);
      tables.add(table);
      worst = worst.and(axis, table);
    }
    return head(tracker, from, curve, tables.get(0), points, worst)
        + arrays(curve, tables, worst.powers)
        + FUNCTION;
  }

  /** The greatest of three axes. */
  private record Worst(double errorDps, double standardErrorDps, double limitsSe, int powers) {
    Worst and(BiasCurve.Axis axis, LookUpTable table) {
      double se = standardErrorDps;
      for (float one : table.standardErrorDps()) {
        se = Math.max(se, one);
      }
      return new Worst(
          Math.max(errorDps, table.worstErrorDps()),
          se,
          Math.max(limitsSe, axis.powers().limitsSe()),
          Math.max(powers, axis.powers().coefficients().length));
    }
  }

  private static String head(
      String tracker, String from, BiasCurve curve, LookUpTable table, int points, Worst worst) {
    return String.format(
        Locale.ROOT,
        HEAD,
        tracker,
        from,
        plain(curve.temperatures().rangeC()[0]),
        plain(curve.temperatures().rangeC()[1]),
        String.format(Locale.ROOT, "%.2g", worst.errorDps),
        points,
        worst.powers,
        exact(table.lowC()),
        exact(table.stepC()),
        exact(curve.temperatures().referenceC()),
        exact(worst.errorDps),
        String.format(Locale.ROOT, "%.2g", worst.standardErrorDps),
        worst.limitsSe,
        exact(worst.standardErrorDps),
        exact(worst.limitsSe));
  }

  private static String arrays(BiasCurve curve, List<LookUpTable> tables, int powers) {
    StringBuilder out = new StringBuilder();
    out.append("/* Which axes have a curve. */\nstatic const int soakbench_axis_known[3] = {");
    out.append(
        curve.axes().stream()
            .map(a -> a.reason() == null ? "1" : "0")
            .collect(Collectors.joining(", ")));
    out.append("};\n\n/* Ascending powers of (T - reference), deg/s per degC^k. */\n");
    out.append("static const double soakbench_coefficients[3][SOAKBENCH_POWERS] = {\n");
    for (BiasCurve.Axis axis : curve.axes()) {
      out.append(row(coefficients(axis, powers)));
    }
    out.append("};\n\n/* From SOAKBENCH_LOW_C in steps of SOAKBENCH_STEP_C, deg/s. */\n");
    out.append("static const float soakbench_bias_dps[3][SOAKBENCH_POINTS] = {\n");
    for (LookUpTable table : tables) {
      out.append(row(values(table.biasDps())));
    }
    out.append("};\n\n/* Standard error of the curve at each of these, deg/s. */\n");
    out.append("static const float soakbench_standard_error_dps[3][SOAKBENCH_POINTS] = {\n");
    for (LookUpTable table : tables) {
      out.append(row(values(table.standardErrorDps())));
    }
    return out.append("};\n").toString();
  }

  private static List<String> coefficients(BiasCurve.Axis axis, int powers) {
    List<String> out = new ArrayList<>();
    for (int k = 0; k < powers; k++) {
      out.add(exact(k < axis.powers().coefficients().length ? axis.powers().coefficients()[k] : 0));
    }
    return out;
  }

  private static List<String> values(float[] table) {
    List<String> out = new ArrayList<>();
    for (float value : table) {
      out.add(Float.toString(value) + "f");
    }
    return out;
  }

  /** One axis, a few numbers a line. */
  private static String row(List<String> numbers) {
    StringBuilder out = new StringBuilder("  {");
    for (int i = 0; i < numbers.size(); i++) {
      out.append(i == 0 ? "" : i % 6 == 0 ? ",\n   " : ", ").append(numbers.get(i));
    }
    return out.append("},\n").toString();
  }

  private static String plain(double value) {
    return String.format(Locale.ROOT, "%.2f", value);
  }

  /** All digits, in a form that C and Java share. */
  private static String exact(double value) {
    return Double.toString(value);
  }
}

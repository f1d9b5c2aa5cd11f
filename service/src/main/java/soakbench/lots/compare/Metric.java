package soakbench.lots.compare;

import java.util.function.Function;
import soakbench.model.Estimate;

/**
 * A figure by which units are compared: a column of the table of figures.
 *
 * @param name of the column, as {@code tempco_x_dps_per_c}
 * @param unit as people read it, as deg/s per degC
 * @param words what a lot has of it, in the plural, as "coefficients of x"
 * @param kind what it is like
 * @param of the figure of a unit; of a kind without sign its magnitude
 */
public record Metric(
    String name, String unit, String words, Kind kind, Function<LotUnit, Estimate> of) {

  /** What a figure is like, which decides how units are compared by it. */
  public enum Kind {
    /** About zero, normally distributed: a bad lot spreads wider, its mean need not differ. */
    SIGNED,
    /** Without sign, skewed: the worst of three axes, or of both signs. */
    WORST,
    /** Without sign, and so many times as large: noise, a time constant. */
    SCALE,
    /** About a level that is not zero, normally distributed: a temperature. */
    LEVEL;

    /** Whether normal limits fit it. */
    public boolean normal() {
      return this == SIGNED || this == LEVEL;
    }

    /** Whether "so many times as large" has a meaning. */
    public boolean hasRatio() {
      return this != LEVEL;
    }
  }

  /** A metric that is a magnitude: figures lose their sign. */
  static Metric magnitude(
      String name, String unit, String words, Kind kind, Function<LotUnit, Estimate> of) {
    return new Metric(name, unit, words, kind, unit1 -> magnitude(of.apply(unit1)));
  }

  private static Estimate magnitude(Estimate e) {
    if (!e.known() || e.value() >= 0) {
      return e;
    }
    Double low = e.high() == null ? null : Double.valueOf(-e.high());
    Double high = e.low() == null ? null : Double.valueOf(-e.low());
    return new Estimate(-e.value(), e.se(), low, high, null);
  }

  /** What a limit is compared with: how large the figure is, whatever its sign. */
  double size(double value) {
    return kind == Kind.LEVEL ? value : Math.abs(value);
  }
}

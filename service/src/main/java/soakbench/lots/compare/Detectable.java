package soakbench.lots.compare;

import org.hipparchus.stat.StatUtils;
import soakbench.lots.statistics.MedianRatio;
import soakbench.lots.statistics.Power;
import soakbench.model.Estimate;

/**
 * What two lots of these sizes could have shown, and how many units another difference needs.
 *
 * @param difference of means that would have been seen, in the figure's unit; null where not known
 * @param ratio of medians that would have been seen, above 1; null where not known
 * @param power how often, 0 to 1
 * @param wantedDifference what is asked for, in the figure's unit; null where not known
 * @param eachForDifference units of each lot that show it; null where not known
 * @param wantedRatio what is asked for, above 1
 * @param eachForRatio units of each lot that show it; null where not known
 * @param reason why nothing is known; null where something is
 */
public record Detectable(
    Double difference,
    Double ratio,
    double power,
    Double wantedDifference,
    Integer eachForDifference,
    Double wantedRatio,
    Integer eachForRatio,
    String reason) {

  /**
   * Of two lots.
   *
   * @param mean their difference, with its error
   * @param medians what the precision of their ratio rests on; null where not known
   * @param wanted by whom asks
   */
  static Detectable of(double[] a, double[] b, Estimate mean, MedianRatio medians, Wanted wanted) {
    if (!mean.known()) {
      return new Detectable(null, null, Power.SHARE, null, null, null, null, mean.reason());
    }
    // The limits know how few degrees of freedom the error has.
    double df = a.length + b.length - 2.0;
    double seen = Power.quantile(df) * mean.se();
    double asked = wanted.difference() == null ? seen / 2 : wanted.difference();
    int each = Power.unitsOfEach(StatUtils.variance(a), StatUtils.variance(b), asked);
    if (medians == null) {
      return new Detectable(seen, null, Power.SHARE, asked, each, null, null, null);
    }
    double log = Math.sqrt(medians.first() / a.length + medians.second() / b.length);
    return new Detectable(
        seen,
        Math.exp(Power.quantile(df) * log),
        Power.SHARE,
        asked,
        each,
        wanted.ratio(),
        Power.unitsOfEach(medians.first(), medians.second(), Math.log(wanted.ratio())),
        null);
  }

  /**
   * What somebody would like to be able to see.
   *
   * @param difference in the figure's unit; null for half of what can be seen
   * @param ratio above 1
   */
  public record Wanted(Double difference, double ratio) {
    /** Where nobody says. */
    public static final Wanted DEFAULT = new Wanted(null, 1.3);
  }
}

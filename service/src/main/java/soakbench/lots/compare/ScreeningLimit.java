package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * From what size on a unit is looked at again or rejected, by one figure. The size of a figure is
 * without its sign; of a temperature it is the temperature itself.
 *
 * @param metric name of the figure
 * @param lookAgainOver in the figure's unit; null to look at none again
 * @param rejectOver likewise; null to reject none
 */
public record ScreeningLimit(String metric, Double lookAgainOver, Double rejectOver) {

  /** What is wrong with it, in a sentence each; empty where nothing is. */
  public List<String> problems() {
    List<String> problems = new ArrayList<>();
    if (lookAgainOver == null && rejectOver == null) {
      problems.add("give look_again_over, reject_over or both; leave the figure out for no limit.");
    }
    check(problems, "look_again_over", lookAgainOver);
    check(problems, "reject_over", rejectOver);
    if (problems.isEmpty()
        && lookAgainOver != null
        && rejectOver != null
        && lookAgainOver > rejectOver) {
      problems.add(
          String.format(
              Locale.ROOT,
              "the limits stand the wrong way round: look_again_over %s is over reject_over %s;"
                  + " a unit is looked at again before it is rejected.",
              lookAgainOver,
              rejectOver));
    }
    return problems;
  }

  private static void check(List<String> problems, String name, Double limit) {
    if (limit != null && !(limit > 0 && limit < Double.POSITIVE_INFINITY)) {
      problems.add("%s %s must be a number above 0.".formatted(name, limit));
    }
  }
}

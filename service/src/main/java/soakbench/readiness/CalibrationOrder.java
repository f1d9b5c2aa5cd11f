package soakbench.readiness;

import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * In which order the trackers that call for a hand are taken. Heat goes first: what is over its
 * limit before what only heads for it, and of these the longest first. Then those to calibrate, by
 * what is lost soonest: whose shift to come takes more than half of its limit before the others,
 * then who may lie open for the shortest time, then who has been ready for longest.
 *
 * <p>The steps are coarse on purpose: an order that changed with the noise of each second would
 * send somebody to and fro. Common practice, no source.
 */
public final class CalibrationOrder {
  /** Two that may lie open alike to so many seconds are taken by how long they have been ready. */
  private static final double OPEN_STEP_S = 10;

  private static final double SHARE_OF_SHIFT = 0.5;

  private static final Comparator<Readiness> HOT_FIRST =
      Comparator.comparing(CalibrationOrder::notYetHot)
          .thenComparingLong(Readiness::sinceUs)
          .thenComparing(Readiness::tracker);

  private static final Comparator<Readiness> LOST_SOONEST_FIRST =
      Comparator.comparing((Readiness v) -> shareOfShift(v) <= SHARE_OF_SHIFT)
          .thenComparingDouble(CalibrationOrder::openSteps)
          .thenComparingLong(Readiness::sinceUs)
          .thenComparing(Readiness::tracker);

  private CalibrationOrder() {}

  /**
   * The order.
   *
   * @param stepOf what is to be done next with a tracker; may answer null
   * @return the place of each tracker that calls, by its id, from 1; no others
   */
  public static Map<String, Integer> of(
      Collection<Readiness> verdicts, Function<Readiness, NextStep> stepOf) {
    Map<String, Integer> order = new LinkedHashMap<>();
    for (NextStep step : List.of(NextStep.UNCOVER, NextStep.CALIBRATE)) {
      verdicts.stream()
          .filter(v -> stepOf.apply(v) == step)
          .sorted(step == NextStep.UNCOVER ? HOT_FIRST : LOST_SOONEST_FIRST)
          .forEach(v -> order.put(v.tracker(), order.size() + 1));
    }
    return order;
  }

  private static boolean notYetHot(Readiness v) {
    return v.heat() != null && v.heat().kind() == Heat.Kind.HEADING_HOT;
  }

  /** The greatest shift that must be reckoned with, as a share of the limit; 1 where not known. */
  private static double shareOfShift(Readiness v) {
    return v.conditions().stream()
        .filter(c -> c.name().equals("shift") && c.found().low() != null)
        .filter(c -> c.wanted().limitHigh() != null)
        .mapToDouble(CalibrationOrder::share)
        .findFirst()
        .orElse(1);
  }

  private static double share(Condition shift) {
    double reach = Math.max(Math.abs(shift.found().low()), Math.abs(shift.found().high()));
    return reach / shift.wanted().limitHigh();
  }

  /** Who is not known to be lost soon comes after those who are. */
  private static double openSteps(Readiness v) {
    Double leastS = v.unwrapped().timeS().low();
    return leastS == null ? Double.MAX_VALUE : Math.floor(leastS / OPEN_STEP_S);
  }
}

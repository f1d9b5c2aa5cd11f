package soakbench.api.limits;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;
import java.util.function.Predicate;
import soakbench.api.limits.PreviewRow.Outcome;

/**
 * What the proposed limits change over all soaks that were judged again.
 *
 * @param judged how many were
 * @param notJudged how many were asked for and not judged
 * @param notJudgedReason why, and how to get at them; null where none was
 */
record PreviewSummary(
    int judged,
    long notJudged,
    String notJudgedReason,
    Totals own,
    Totals proposed,
    @JsonUnwrapped Moved moved) {

  /**
   * Sums over the soaks judged.
   *
   * @param readySoaks how many were ready at some time
   * @param readyS for how long, s
   * @param stateChanges how often their states changed
   */
  record Totals(long readySoaks, double readyS, long stateChanges) {
    static Totals of(List<PreviewRow> judged, Function<PreviewRow, Outcome> which) {
      List<Outcome> all = judged.stream().map(which).toList();
      return new Totals(
          all.stream().filter(Outcome::ready).count(),
          all.stream().mapToDouble(Outcome::readyS).sum(),
          all.stream().mapToLong(Outcome::stateChanges).sum());
    }
  }

  /**
   * How many soaks the proposed limits would have made ready at another time.
   *
   * @param readyEarlier how many would have been ready earlier
   * @param readyLater how many would have been ready later
   * @param readyGained how many would have been ready that never were
   * @param readyLost how many would never have been ready that were
   */
  record Moved(long readyEarlier, long readyLater, long readyGained, long readyLost) {
    static Moved of(List<PreviewRow> judged) {
      return new Moved(
          count(judged, r -> bothReady(r) && compared(r) < 0),
          count(judged, r -> bothReady(r) && compared(r) > 0),
          count(judged, r -> !r.own().ready() && r.proposed().ready()),
          count(judged, r -> r.own().ready() && !r.proposed().ready()));
    }
  }

  static PreviewSummary of(List<PreviewRow> rows, long askedFor, String notJudgedReason) {
    List<PreviewRow> judged = rows.stream().filter(r -> Objects.nonNull(r.proposed())).toList();
    long notJudged = askedFor - judged.size();
    return new PreviewSummary(
        judged.size(),
        notJudged,
        notJudged == 0 ? null : notJudgedReason,
        Totals.of(judged, PreviewRow::own),
        Totals.of(judged, PreviewRow::proposed),
        Moved.of(judged));
  }

  private static long count(List<PreviewRow> rows, Predicate<PreviewRow> which) {
    return rows.stream().filter(which).count();
  }

  private static boolean bothReady(PreviewRow r) {
    return r.own().ready() && r.proposed().ready();
  }

  private static int compared(PreviewRow r) {
    return r.proposed().firstReadyUs().compareTo(r.own().firstReadyUs());
  }
}

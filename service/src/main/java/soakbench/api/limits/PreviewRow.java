package soakbench.api.limits;

import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * One past soak by its own limits and by the proposed ones.
 *
 * @param proposed null where it could not be judged again, for the reason that is then given
 */
record PreviewRow(Soak soak, Outcome own, Outcome proposed, String reason) {

  /**
   * What became of a soak.
   *
   * @param firstReadyUs when it was first ready; null if it never was
   * @param readyS for how long it was ready in all, s
   * @param stateChanges how often its state changed
   */
  record Outcome(Long firstReadyUs, double readyS, int stateChanges) {

    /**
     * Read off a timeline.
     *
     * @param endUs when the soak's last sample was taken
     */
    static Outcome of(List<StateChange> timeline, long endUs) {
      Long first = null;
      long readyUs = 0;
      for (int i = 0; i < timeline.size(); i++) {
        StateChange entry = timeline.get(i);
        if (entry.state() == State.READY) {
          first = first == null ? Long.valueOf(entry.timeUs()) : first;
          long untilUs = i + 1 < timeline.size() ? timeline.get(i + 1).timeUs() : endUs;
          readyUs += Math.max(0, Math.min(untilUs, endUs) - entry.timeUs());
        }
      }
      return new Outcome(first, readyUs / 1e6, Math.max(0, timeline.size() - 1));
    }

    boolean ready() {
      return firstReadyUs != null;
    }
  }

  static Table<PreviewRow> table(TrackerNames names) {
    Table<PreviewRow> table =
        new Table<PreviewRow>()
            .column("soak", r -> r.soak.id())
            .column("tracker", r -> r.soak.tracker())
            .column("name", r -> names.of(r.soak.tracker()))
            .column("lot", r -> names.lotOf(r.soak.tracker()))
            .time("start", r -> r.soak.startUs())
            .time("end", r -> r.soak.endUs())
            .column("ended", r -> r.soak.ended())
            .member("own", PreviewRow::own)
            .member("proposed", PreviewRow::proposed);
    outcome(table, "own", PreviewRow::own);
    outcome(table, "proposed", PreviewRow::proposed);
    return table.column("reason", PreviewRow::reason);
  }

  private static void outcome(
      Table<PreviewRow> table, String name, Function<PreviewRow, Outcome> of) {
    table
        .cellTime(name + "_first_ready", r -> part(of.apply(r), Outcome::firstReadyUs))
        .cell(name + "_ready_s", r -> part(of.apply(r), Outcome::readyS))
        .cell(name + "_state_changes", r -> part(of.apply(r), Outcome::stateChanges));
  }

  private static <T> T part(Outcome outcome, Function<Outcome, T> part) {
    return outcome == null ? null : part.apply(outcome);
  }
}

package soakbench.api.limits;

import java.util.List;
import soakbench.api.http.Table;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * One past soak by its own limits and by the proposed ones.
 *
 * @param soak its id
 * @param name the tracker's name
 * @param lot the tracker's lot, or empty
 * @param ended why it ended; null while it goes on
 * @param proposed null where it could not be judged again, for the reason that is then given
 */
record PreviewRow(
    String soak,
    String tracker,
    String name,
    String lot,
    long startUs,
    long endUs,
    Soak.End ended,
    Outcome own,
    Outcome proposed,
    String reason) {

  static final Table<PreviewRow> TABLE = build();

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

  private static Table<PreviewRow> build() {
    return new Table<PreviewRow>()
        .column("soak", PreviewRow::soak)
        .column("tracker", PreviewRow::tracker)
        .column("name", PreviewRow::name)
        .column("lot", PreviewRow::lot)
        .time("start", PreviewRow::startUs)
        .time("end", PreviewRow::endUs)
        .column("ended", PreviewRow::ended)
        .time("own_first_ready", r -> r.own.firstReadyUs)
        .column("own_ready_s", r -> r.own.readyS)
        .column("own_state_changes", r -> r.own.stateChanges)
        .time("proposed_first_ready", r -> r.proposed == null ? null : r.proposed.firstReadyUs)
        .column("proposed_ready_s", r -> r.proposed == null ? null : r.proposed.readyS)
        .column("proposed_state_changes", r -> r.proposed == null ? null : r.proposed.stateChanges)
        .column("reason", PreviewRow::reason);
  }
}

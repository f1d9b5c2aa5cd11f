package soakbench.live;

import java.util.List;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Takes up a tracker where the store was left: its last soak, if it goes on, judged again from its
 * bins.
 */
final class Restoration {
  private final SoakStore.Unit unit;
  private final Limits limits;
  private final RatesTold told;

  Restoration(SoakStore.Unit unit, Limits limits, RatesTold told) {
    this.told = told;
    this.unit = unit;
    this.limits = limits;
  }

  /** The watch of the tracker whose last soak this is. */
  TrackerWatch of(Soak soak) {
    TrackerWatch watch = new TrackerWatch(soak.tracker(), limits, told);
    if (soak.ended() == Soak.End.TAKEN_OFF) {
      watch.takenOffAt(soak.endUs(), false);
    }
    Derived known = new Derived();
    for (Bin bin : bins(soak)) {
      watch.replay(bin, 0, known);
    }
    watch.samples(soak.samples());
    resumeSilence(soak, watch, known);
    if (!soak.open()) {
      watch.end(soak.ended(), known);
    }
    long closedUs = watch.closedSecond() * 1_000_000L;
    watch.rememberBoot(unit.samples(soak.tracker(), closedUs, closedUs + 1_000_000L));
    Derived open = new Derived();
    for (Sample s : unit.samples(soak.tracker(), closedUs + 1_000_000L, Long.MAX_VALUE)) {
      watch.accept(s, open);
    }
    open.write(unit);
    return watch;
  }

  /**
   * A silence that a live clock had noticed before the restart is in the timeline and not in the
   * bins.
   */
  private void resumeSilence(Soak soak, TrackerWatch watch, Derived known) {
    List<StateChange> timeline = unit.timeline(soak.id());
    int said = known.timelines.getOrDefault(soak.id(), List.of()).size();
    if (timeline.size() > said && timeline.get(timeline.size() - 1).state() == State.SILENT) {
      watch.run().ifPresent(run -> run.silence(known));
    }
  }

  /** An ended soak is judged no more: of it only its last second matters. */
  private List<Bin> bins(Soak soak) {
    long fromUs = soak.open() ? soak.startUs() : soak.endUs();
    return unit.bins(
        soak.tracker(), Math.floorDiv(fromUs, 1_000_000L), Long.MAX_VALUE / 2_000_000L);
  }
}

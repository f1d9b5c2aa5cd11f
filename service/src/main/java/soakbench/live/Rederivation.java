package soakbench.live;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;

/**
 * Derives a tracker's soaks again from the samples, from the soak on in which something came late.
 * What had been said otherwise before is marked revised.
 */
final class Rederivation {
  private final SoakStore.Unit unit;
  private final Limits limits;

  Rederivation(SoakStore.Unit unit, Limits limits) {
    this.unit = unit;
    this.limits = limits;
  }

  /**
   * The tracker's watch as it would be had all samples come in time; everything derived is written
   * to the unit.
   */
  TrackerWatch of(String tracker, long fromSecond) {
    List<Soak> old = unit.soaks(tracker, fromSecond * 1_000_000L - TrackerWatch.SILENCE_ENDS_US);
    long startUs = old.isEmpty() ? Long.MAX_VALUE : old.get(0).startUs();
    long baseUs = Math.min(startUs, fromSecond * 1_000_000L);
    TrackerWatch watch = new TrackerWatch(tracker, limits);
    for (Soak s : old) {
      if (s.ended() == Soak.End.TAKEN_OFF) {
        watch.takenOffAt(s.endUs());
      }
    }
    Derived out = new Derived();
    for (Sample s : unit.samples(tracker, baseUs, Long.MAX_VALUE)) {
      watch.accept(s, out);
    }
    write(old, out);
    return watch;
  }

  private void write(List<Soak> old, Derived out) {
    Map<String, List<StateChange>> before = new java.util.HashMap<>();
    for (Soak s : old) {
      before.put(s.id(), unit.timeline(s.id()));
      if (!out.soaks.containsKey(s.id())) {
        unit.deleteSoak(s.id());
      }
    }
    Set<StateChange> said = new HashSet<>();
    before.values().forEach(said::addAll);
    unit.writeBins(out.bins);
    out.soaks.values().forEach(s -> unit.writeSoak(endKept(s, old)));
    out.timelines.forEach((soak, changes) -> unit.replaceTimeline(soak, marked(changes, said)));
  }

  /** An end that a live clock or a person gave stays where the samples still reach no further. */
  private static Soak endKept(Soak soak, List<Soak> old) {
    for (Soak o : old) {
      if (o.id().equals(soak.id()) && soak.open() && !o.open() && o.endUs() >= soak.endUs()) {
        return new Soak(
            soak.id(), soak.tracker(), soak.startUs(), soak.endUs(), soak.samples(), o.ended());
      }
    }
    return soak;
  }

  private static List<StateChange> marked(List<StateChange> changes, Set<StateChange> said) {
    List<StateChange> out = new ArrayList<>();
    for (StateChange c : changes) {
      boolean known = said.contains(c);
      out.add(known ? c : new StateChange(c.timeUs(), c.state(), true));
    }
    return out;
  }

  /** All stored bins of a soak from the store, for a restart. */
  static List<Bin> binsOf(SoakStore.Unit unit, Soak soak) {
    return unit.bins(
        soak.tracker(), Math.floorDiv(soak.startUs(), 1_000_000L), Long.MAX_VALUE / 2_000_000L);
  }
}

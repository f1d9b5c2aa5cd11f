package soakbench.live.watch;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import soakbench.live.SoakStore;
import soakbench.model.RackAndLot;
import soakbench.model.RackSet;
import soakbench.model.Sample;

/**
 * The trackers that this program writes for: those that the roster puts on one of its racks. Each
 * unit of work begins by asking whether any were moved, and none is until it ends, so two programs
 * never write for the same one. Changed by one thread, read by any.
 */
final class OwnTrackers {
  private volatile RackSet racks = RackSet.ALL;
  private volatile Map<String, RackAndLot> roster = Map.of();
  private long moves = -1;

  /** Sets for which racks it writes; before the first unit of work. */
  void writesFor(RackSet these) {
    racks = these;
  }

  /** Whether it is every tracker, wherever it lies. */
  boolean all() {
    return racks.all();
  }

  /** Whether it writes for this one, as the roster stood in the last unit of work. */
  boolean has(String tracker) {
    return racks.all() || racks.has(rackIn(roster, tracker));
  }

  private static String rackIn(Map<String, RackAndLot> roster, String tracker) {
    RackAndLot place = roster.get(tracker);
    return place == null ? "" : place.rack();
  }

  /** Those of these samples that are its own. */
  List<Sample> only(List<Sample> samples) {
    return racks.all() ? samples : samples.stream().filter(s -> has(s.tracker())).toList();
  }

  /** Whether none was moved since the last unit of work, and none is until this one ends. */
  boolean isUpToDate(SoakStore.Unit unit) {
    return racks.all() || unit.moves() == moves;
  }

  /**
   * Reads the roster again where a tracker was moved.
   *
   * @return those that became its own; empty where some may have been away and have come back, so
   *     that others may have written of any
   */
  Optional<Set<String>> read(SoakStore.Unit unit) {
    if (racks.all()) {
      return Optional.of(Set.of());
    }
    long now = unit.moves();
    if (now == moves) {
      return Optional.of(Set.of());
    }
    Map<String, RackAndLot> before = roster;
    Map<String, RackAndLot> after = unit.racksAndLots();
    Set<String> listed = new HashSet<>(before.keySet());
    listed.addAll(after.keySet());
    long movedBefore = moves;
    roster = after;
    moves = now;
    listed.removeIf(t -> rackIn(after, t).equals(rackIn(before, t)));
    if (listed.size() < now - movedBefore) {
      return Optional.empty();
    }
    listed.removeIf(t -> !racks.has(rackIn(after, t)) || racks.has(rackIn(before, t)));
    return Optional.of(Set.copyOf(listed));
  }
}

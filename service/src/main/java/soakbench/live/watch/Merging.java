package soakbench.live.watch;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import soakbench.live.SoakStore;
import soakbench.live.SoakStore.Moved;
import soakbench.live.StaleRange;
import soakbench.model.Soak;

/**
 * Gives the samples of a tracker to another, soak by soak. A soak that the other has nothing beside
 * stays as it was derived, by its own terms; one that lies within or next to the other's soaks is
 * derived again with them, as if its samples had come late. One whose samples are no longer stored
 * can't be: it stays as it was derived, and under its old id where the other has a soak of the same
 * time. Not thread-safe.
 */
public final class Merging {
  private static final long US_PER_S = 1_000_000L;

  private final String tracker;
  private final String into;
  private final Deque<Soak> soaks;
  private final Set<String> given = new HashSet<>();

  Merging(String tracker, String into, List<Soak> soaks) {
    this.tracker = tracker;
    this.into = into;
    this.soaks = new ArrayDeque<>(soaks);
  }

  String tracker() {
    return tracker;
  }

  String into() {
    return into;
  }

  /** What became of the next soak's samples, then of those without a soak; empty when done. */
  Optional<Moved> next(SoakStore.Unit unit, TrackerWatches watches) {
    Soak soak = soaks.poll();
    if (soak != null) {
      return Optional.of(give(unit, watches, soak));
    }
    OptionalLong firstUs = unit.nextSampleUs(tracker, Long.MIN_VALUE);
    if (firstUs.isEmpty()) {
      return Optional.empty();
    }
    long endUs = unit.lastSampleUs(tracker, Long.MAX_VALUE).orElseThrow() + 1;
    return Optional.of(giveLate(unit, watches, firstUs.getAsLong(), endUs));
  }

  private Moved give(SoakStore.Unit unit, TrackerWatches watches, Soak soak) {
    boolean apart = isApart(unit, soak, SoakCutter.SILENCE_ENDS_US);
    if (!apart && !soak.samplesKept()) {
      // It can't be derived again with the other's, and one second has one bin.
      if (!isApart(unit, soak, US_PER_S)) {
        return new Moved(0, 0);
      }
      apart = true;
    }
    if (!apart) {
      unit.deleteSoak(soak.id());
      unit.deleteBins(tracker, soak.startSecond(), soak.endSecond() + 1);
      return giveLate(unit, watches, soak.startUs(), soak.endUs() + 1);
    }
    Moved moved = unit.moveSamples(tracker, into, soak.startUs(), soak.endUs() + 1);
    Soak its = ofOther(soak);
    unit.moveSoak(soak, its);
    given.add(its.id());
    watches.adopt(unit, its);
    return moved;
  }

  /** Whether the other has no soak so near to it, but for those that it was given here. */
  private boolean isApart(SoakStore.Unit unit, Soak soak, long nearUs) {
    return unit.soaks(into, soak.startUs() - nearUs).stream()
        .filter(s -> s.startUs() <= soak.endUs() + nearUs)
        .allMatch(s -> given.contains(s.id()));
  }

  private Soak ofOther(Soak soak) {
    return new Soak(
        SoakRun.id(into, soak.startUs()),
        into,
        soak.startUs(),
        soak.endUs(),
        soak.samples(),
        soak.ended(),
        soak.samplesKept());
  }

  private Moved giveLate(SoakStore.Unit unit, TrackerWatches watches, long fromUs, long toUs) {
    Moved moved = unit.moveSamples(tracker, into, fromUs, toUs);
    StaleRange seconds =
        new StaleRange(Math.floorDiv(fromUs, US_PER_S), Math.floorDiv(toUs - 1, US_PER_S));
    watches.adoptLate(unit, into, seconds);
    return moved;
  }
}

package soakbench.store;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import soakbench.model.Soak;
import soakbench.store.derived.DueNotes;

/** Tells everybody who derives something of soaks which of them changed. */
final class ChangedSoaks {
  final DueNotes figures = new DueNotes();
  final DueNotes calibrations = new DueNotes();
  final DueNotes summaries = new DueNotes();

  private final List<DueNotes> all = List.of(figures, calibrations);

  /** What one unit of work changes; told when it is committed. Not thread-safe. */
  static final class OfUnit {
    private final Set<String> soaks = new HashSet<>();
    private final Set<String> trackers = new HashSet<>();
    private boolean any;

    void soak(String soak) {
      soaks.add(soak);
    }

    /** The soak after one that ended depends on it. */
    void written(Soak soak) {
      if (soak.open()) {
        soaks.add(soak.id());
      } else {
        trackers.add(soak.tracker());
      }
    }

    /** Every soak of a tracker. */
    void tracker(String tracker) {
      trackers.add(tracker);
    }

    /** Nobody knows which. */
    void any() {
      any = true;
    }
  }

  /** A unit of work is committed. */
  void tell(OfUnit changes) {
    for (DueNotes notes : all) {
      notes.soaks(changes.soaks);
      notes.trackers(changes.trackers);
      if (changes.any) {
        notes.all();
      }
    }
  }

  /** Something was said of these trackers. */
  void trackers(Collection<String> changed) {
    all.forEach(notes -> notes.trackers(changed));
  }
}

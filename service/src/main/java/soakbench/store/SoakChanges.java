package soakbench.store;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import soakbench.model.RackSet;
import soakbench.model.Soak;
import soakbench.store.connection.Announcements;
import soakbench.store.derived.DirtySoaks;

/** Marks which soaks changed for everything that is derived from soaks. */
final class SoakChanges {
  final DirtySoaks figures = new DirtySoaks();
  final DirtySoaks calibrations = new DirtySoaks();
  final DirtySoaks summaries = new DirtySoaks();

  private final List<DirtySoaks> all = List.of(figures, calibrations);
  private long moves;

  /** Sets for which racks this program derives; at first for all. */
  void derivesFor(RackSet racks) {
    List.of(figures, calibrations, summaries).forEach(dirty -> dirty.derivesFor(racks));
  }

  /** What one unit of work changes; marked when it is committed. Not thread-safe. */
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

    /** It is not known which. */
    void any() {
      any = true;
    }
  }

  /** A unit of work is committed. */
  void committed(OfUnit changes) {
    for (DirtySoaks dirty : all) {
      dirty.soaks(changes.soaks);
      dirty.trackers(changes.trackers);
      if (changes.any) {
        dirty.all();
      }
    }
  }

  /** So many trackers were moved to other racks, perhaps to those for which this one derives. */
  synchronized void moved(long trackers) {
    if (trackers != moves) {
      moves = trackers;
      all.forEach(DirtySoaks::all);
    }
  }

  /** What is derived may be out of date by what another service committed. */
  void heard(Announcements.News news) {
    if (news.told() && news.trackers() == null) {
      all.forEach(DirtySoaks::all);
    } else if (news.told()) {
      trackers(news.trackers());
    }
  }

  /** The roster changed for these trackers. */
  void trackers(Collection<String> changed) {
    all.forEach(dirty -> dirty.trackers(changed));
  }
}

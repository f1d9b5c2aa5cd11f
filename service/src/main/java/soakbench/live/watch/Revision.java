package soakbench.live.watch;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.NavigableSet;
import java.util.Set;
import java.util.TreeSet;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Marks where timelines derived again differ from before: changes that are new, and changes that
 * now last longer because one after them was removed.
 */
final class Revision {
  private final Set<Entry> unchanged = new HashSet<>();
  private final Set<Long> longerUs = new HashSet<>();

  private record Entry(long timeUs, State state) {
    static Entry of(StateChange c) {
      return new Entry(c.timeUs(), c.state());
    }
  }

  Revision(List<StateChange> before, Collection<List<StateChange>> now) {
    Set<Entry> all = new HashSet<>();
    NavigableSet<Long> timesUs = new TreeSet<>();
    for (List<StateChange> timeline : now) {
      for (StateChange c : timeline) {
        all.add(Entry.of(c));
        timesUs.add(c.timeUs());
      }
    }
    for (StateChange c : before) {
      Long inForceUs = timesUs.floor(c.timeUs());
      if (!all.contains(Entry.of(c)) && inForceUs != null) {
        longerUs.add(inForceUs);
      }
      if (!c.revised()) {
        unchanged.add(Entry.of(c));
      }
    }
  }

  List<StateChange> marked(List<StateChange> now) {
    return now.stream().map(c -> new StateChange(c.timeUs(), c.state(), revised(c))).toList();
  }

  private boolean revised(StateChange c) {
    return !unchanged.contains(Entry.of(c)) || longerUs.contains(c.timeUs());
  }
}

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
 * Marks where timelines derived again differ from what had been said: changes that are new, and
 * changes that now last longer because one after them was taken back.
 */
final class Revision {
  private final Set<Said> unchanged = new HashSet<>();
  private final Set<Long> longerUs = new HashSet<>();

  private record Said(long timeUs, State state) {
    static Said of(StateChange c) {
      return new Said(c.timeUs(), c.state());
    }
  }

  Revision(List<StateChange> before, Collection<List<StateChange>> now) {
    Set<Said> all = new HashSet<>();
    NavigableSet<Long> timesUs = new TreeSet<>();
    for (List<StateChange> timeline : now) {
      for (StateChange c : timeline) {
        all.add(Said.of(c));
        timesUs.add(c.timeUs());
      }
    }
    for (StateChange c : before) {
      Long inForceUs = timesUs.floor(c.timeUs());
      if (!all.contains(Said.of(c)) && inForceUs != null) {
        longerUs.add(inForceUs);
      }
      if (!c.revised()) {
        unchanged.add(Said.of(c));
      }
    }
  }

  List<StateChange> marked(List<StateChange> now) {
    return now.stream().map(c -> new StateChange(c.timeUs(), c.state(), revised(c))).toList();
  }

  private boolean revised(StateChange c) {
    return !unchanged.contains(Said.of(c)) || longerUs.contains(c.timeUs());
  }
}

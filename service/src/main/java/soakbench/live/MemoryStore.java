package soakbench.live;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;

/**
 * A store in memory, for replay and tests: the same contract as the database, gone when the program
 * ends. Units may be opened by any thread, one at a time.
 */
public final class MemoryStore implements SoakStore {
  final Map<String, NavigableMap<Long, Sample>> samples = new HashMap<>();
  final Map<String, NavigableMap<Long, Bin>> bins = new HashMap<>();
  final Map<String, Soak> soaks = new TreeMap<>();
  final Map<String, List<StateChange>> timelines = new HashMap<>();
  final Map<String, Long> stale = new TreeMap<>();

  private boolean unitOpen;

  /**
   * @throws IllegalStateException if another unit is open
   */
  @Override
  public synchronized Unit begin() {
    if (unitOpen) {
      throw new IllegalStateException("a unit of work is open already; close it first");
    }
    unitOpen = true;
    return new MemoryUnit(this);
  }

  synchronized void unitClosed() {
    unitOpen = false;
  }
}

package soakbench.store.derived;

import java.util.Collection;
import java.util.HashSet;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import soakbench.model.RackSet;

/**
 * The soaks that changed since they were last compared with what is derived from them, so that an
 * idle poll compares none. A mark is only a reason to compare, and kept in memory: what a crash
 * loses, and what somebody changes by hand, is found by comparing all soaks at the start and
 * periodically. Thread-safe.
 */
public final class DirtySoaks {
  private static final long ALL_EVERY_NS = TimeUnit.MINUTES.toNanos(10);

  private Batch noted = new Batch(true, new HashSet<>(), new HashSet<>());
  private final Set<String> unreadable = new HashSet<>();
  private long allTakenNs;
  private volatile RackSet racks = RackSet.ALL;

  /**
   * What is to be compared.
   *
   * @param all every soak
   * @param soaks these
   * @param trackers every soak of these
   */
  record Batch(boolean all, Set<String> soaks, Set<String> trackers) {
    boolean nothing() {
      return !all && soaks.isEmpty() && trackers.isEmpty();
    }
  }

  /** Sets for which racks this program derives; at first for all. */
  public void derivesFor(RackSet these) {
    racks = these;
  }

  RackSet racks() {
    return racks;
  }

  public synchronized void soaks(Collection<String> changed) {
    noted.soaks().addAll(changed);
  }

  public synchronized void trackers(Collection<String> changed) {
    noted.trackers().addAll(changed);
  }

  public synchronized void all() {
    noted = new Batch(true, noted.soaks(), noted.trackers());
  }

  /**
   * What is stored of a soak can't be read, so it is out of date whatever its basis says.
   *
   * @return whether that was not known yet
   */
  synchronized boolean unreadable(String soak) {
    return unreadable.add(soak);
  }

  /** It was stored anew, or the soak is gone. */
  synchronized void readable(String soak) {
    unreadable.remove(soak);
  }

  synchronized Set<String> unreadable() {
    return Set.copyOf(unreadable);
  }

  /** Takes all marks; what is still to be compared later is marked again. */
  synchronized Batch take() {
    long nowNs = System.nanoTime();
    boolean all = noted.all() || nowNs - allTakenNs > ALL_EVERY_NS;
    Batch taken = new Batch(all, noted.soaks(), noted.trackers());
    noted = new Batch(false, new HashSet<>(), new HashSet<>());
    if (all) {
      allTakenNs = nowNs;
    }
    return taken;
  }

  /** Marks again what could not be compared. */
  synchronized void giveBack(Batch taken) {
    if (taken.all()) {
      all();
    }
    soaks(taken.soaks());
    trackers(taken.trackers());
  }
}

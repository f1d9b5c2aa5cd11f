package soakbench.store.derived;

import java.util.Collection;
import java.util.HashSet;
import java.util.Set;
import java.util.concurrent.TimeUnit;

/**
 * Of which soaks something changed since they were last looked at, so that nobody looks through all
 * of them when nothing did. A note is only a reason to compare, and kept in memory: what a crash
 * loses, and what somebody changes by hand, is found by comparing all soaks at the start and once
 * in a while. Safe for many threads.
 */
public final class DueNotes {
  private static final long ALL_EVERY_NS = TimeUnit.MINUTES.toNanos(10);

  private Taken noted = new Taken(true, new HashSet<>(), new HashSet<>());
  private final Set<String> unreadable = new HashSet<>();
  private long allTakenNs;

  /**
   * What is to be looked at.
   *
   * @param all every soak
   * @param soaks these
   * @param trackers every soak of these
   */
  record Taken(boolean all, Set<String> soaks, Set<String> trackers) {
    boolean nothing() {
      return !all && soaks.isEmpty() && trackers.isEmpty();
    }
  }

  public synchronized void soaks(Collection<String> changed) {
    noted.soaks().addAll(changed);
  }

  public synchronized void trackers(Collection<String> changed) {
    noted.trackers().addAll(changed);
  }

  public synchronized void all() {
    noted = new Taken(true, noted.soaks(), noted.trackers());
  }

  /**
   * What is kept of a soak can't be read, so it is due whatever the row beside it says.
   *
   * @return whether that is news
   */
  synchronized boolean unreadable(String soak) {
    return unreadable.add(soak);
  }

  /** It was kept anew, or the soak is gone. */
  synchronized void readable(String soak) {
    unreadable.remove(soak);
  }

  synchronized Set<String> unreadable() {
    return Set.copyOf(unreadable);
  }

  /** Takes all notes; what is still to be looked at later is noted again. */
  synchronized Taken take() {
    long nowNs = System.nanoTime();
    boolean all = noted.all() || nowNs - allTakenNs > ALL_EVERY_NS;
    Taken taken = new Taken(all, noted.soaks(), noted.trackers());
    noted = new Taken(false, new HashSet<>(), new HashSet<>());
    if (all) {
      allTakenNs = nowNs;
    }
    return taken;
  }

  /** Notes again what could not be looked at. */
  synchronized void giveBack(Taken taken) {
    if (taken.all()) {
      all();
    }
    soaks(taken.soaks());
    trackers(taken.trackers());
  }
}

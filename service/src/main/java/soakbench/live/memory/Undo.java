package soakbench.live.memory;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Map;

/**
 * Changes maps under a lock and remembers what they held before, so that the changes can be taken
 * back.
 */
final class Undo {
  private final Deque<Runnable> steps = new ArrayDeque<>();

  private final Object lock;

  /**
   * @param lock held while a map is changed
   */
  Undo(Object lock) {
    this.lock = lock;
  }

  <K, V> void put(Map<K, V> map, K key, V value) {
    V before;
    synchronized (lock) {
      before = map.put(key, value);
    }
    steps.push(() -> restore(map, key, before));
  }

  <K, V> void remove(Map<K, V> map, K key) {
    V before;
    synchronized (lock) {
      before = map.remove(key);
    }
    steps.push(() -> restore(map, key, before));
  }

  /** Rolls back every change, the newest first. */
  void rollBack() {
    synchronized (lock) {
      while (!steps.isEmpty()) {
        steps.pop().run();
      }
    }
  }

  /** Keeps the changes. */
  void forget() {
    steps.clear();
  }

  private static <K, V> void restore(Map<K, V> map, K key, V before) {
    if (before == null) {
      map.remove(key);
    } else {
      map.put(key, before);
    }
  }
}

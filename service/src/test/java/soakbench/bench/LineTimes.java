package soakbench.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/** When the lines of one tracker were written, by the second that their time falls into. */
final class LineTimes {
  private final Map<Long, List<Long>> bySecond = new ConcurrentHashMap<>();

  /**
   * @param second since 1970, of the time in the line
   * @param ns when it was written, by {@link System#nanoTime}
   */
  void written(long second, long ns) {
    bySecond.compute(
        second,
        (key, before) -> {
          List<Long> all = before == null ? new ArrayList<>() : before;
          all.add(ns);
          return all;
        });
  }

  /** When the lines of a second were written, in order; empty where there were none. */
  List<Long> of(long second) {
    // Copied under the map's lock: the writer may be at it.
    List<List<Long>> copy = new ArrayList<>();
    bySecond.computeIfPresent(
        second,
        (key, all) -> {
          copy.add(List.copyOf(all));
          return all;
        });
    return copy.isEmpty() ? List.of() : copy.get(0);
  }
}

package soakbench.lots.compare;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Whether lots were measured together: directly, or by way of a lot that shares with both. */
final class Overlap {
  /** Least number of units of each lot that must lie where the other has some; of fewer, all. */
  private static final int LEAST = 3;

  private Overlap() {}

  /**
   * Why lots can't be told from what they were measured by; null where they can.
   *
   * @param known the blocks that are known
   */
  static String apart(String by, List<Lot> lots, List<BlockRow> known) {
    Set<String> reached = new HashSet<>();
    Deque<String> next = new ArrayDeque<>(List.of(lots.get(0).name()));
    while (!next.isEmpty()) {
      String lot = next.pop();
      if (reached.add(lot)) {
        lots.stream()
            .map(Lot::name)
            .filter(other -> !reached.contains(other) && shares(lot, other, known))
            .forEach(next::push);
      }
    }
    List<String> left = lots.stream().map(Lot::name).filter(l -> !reached.contains(l)).toList();
    return left.isEmpty() ? null : why(by, lots, left, known);
  }

  private static boolean shares(String a, String b, List<BlockRow> known) {
    return enough(a, b, known) && enough(b, a, known);
  }

  private static boolean enough(String of, String with, List<BlockRow> known) {
    int all = known.stream().mapToInt(row -> row.counts().get(of)).sum();
    return all > 0 && together(of, with, known) >= Math.min(LEAST, all);
  }

  private static int together(String of, String with, List<BlockRow> known) {
    return known.stream()
        .filter(row -> row.counts().get(with) > 0)
        .mapToInt(row -> row.counts().get(of))
        .sum();
  }

  private static String why(String by, List<Lot> lots, List<String> left, List<BlockRow> known) {
    String first = lots.get(0).name();
    String other = left.get(0);
    int a = together(first, other, known);
    int b = together(other, first, known);
    return a == 0 || b == 0
        ? "%s and %s share no %s".formatted(first, other, by)
        : "only %d of %s and %d of %s share a %s; it takes %d of each"
            .formatted(a, first, b, other, by, LEAST);
  }
}

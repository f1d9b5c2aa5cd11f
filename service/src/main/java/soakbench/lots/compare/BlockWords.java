package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.model.Estimate;

/** What is said of how lots were measured. */
final class BlockWords {
  private BlockWords() {}

  /** Why lots can't be told from it, and what to do. */
  static List<String> apart(Block block, List<String> lots) {
    List<String> where = new ArrayList<>();
    for (String lot : lots) {
      List<String> in =
          block.table().stream()
              .filter(row -> row.block() != null && row.counts().get(lot) > 0)
              .map(BlockRow::block)
              .toList();
      where.add(lot + (in.isEmpty() ? " on an unknown " + block.by() : with(block.by(), in)));
    }
    return List.of(
        block.reason()
            + ": "
            + Counts.and(where)
            + "; what differs between them may make the whole difference",
        todo(block.by()));
  }

  private static String with(String by, List<String> in) {
    String preposition =
        switch (by) {
          case "power" -> " on ";
          case "board" -> " with board ";
          default -> " on ";
        };
    return preposition + Counts.some(in);
  }

  private static String todo(String by) {
    return switch (by) {
      case "day" -> "soak six or more units of each lot on one day";
      case "rack" -> "soak six or more units of each lot on one rack";
      case "power" -> "soak six or more units of each lot on the same power";
      default -> "lots that differ in their " + by + " can only be compared as they are";
    };
  }

  /** What was compared within, and whether the difference is still there. */
  static Optional<String> together(List<Block> blocks, Level level) {
    List<String> same = new ArrayList<>();
    List<String> gone = new ArrayList<>();
    for (Block block : blocks) {
      long kinds = block.table().stream().filter(r -> r.block() != null).count();
      Estimate within = block.difference();
      if (Boolean.TRUE.equals(block.shared()) && kinds > 1 && within.known()) {
        (agrees(within, level.difference()) ? same : gone).add(block.by());
      }
    }
    if (!gone.isEmpty()) {
      return Optional.of(
          "compared within one "
              + Counts.and(gone)
              + " the difference of means is another: that may make part of it");
    }
    return same.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "the lots share "
                + Counts.and(same)
                + ": compared within them the difference of means is the same");
  }

  /** Whether each lies within the limits of the other. */
  private static boolean agrees(Estimate within, Estimate all) {
    return all.known() && within.low() <= all.value() && all.value() <= within.high();
  }
}

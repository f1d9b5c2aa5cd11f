package soakbench.model;

import java.util.Arrays;
import java.util.Collection;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * The racks that a service writes for. A tracker belongs to the rack that the roster puts it on, so
 * all services agree on whose it is.
 *
 * @param all whether it is every rack, those included that are yet to be named
 * @param racks else these; the empty name stands for trackers without a rack
 */
public record RackSet(boolean all, SortedSet<String> racks) {
  /** Every rack, and trackers without one: what a service that stands alone writes for. */
  public static final RackSet ALL = new RackSet(true, new TreeSet<>());

  /** How people write "trackers without a rack" in a list of racks. */
  public static final String NO_RACK = "-";

  /** Each rack costs a lock in every transaction, and a server has some thousand of these. */
  public static final int MOST = 100;

  public RackSet {
    racks = new TreeSet<>(racks);
  }

  /**
   * Reads a list.
   *
   * @param names as people write them, {@link #NO_RACK} for trackers without a rack
   * @throws IllegalArgumentException if it is empty or too long, or holds an empty name
   */
  public static RackSet of(Collection<String> names) {
    SortedSet<String> racks =
        names.stream().map(String::strip).collect(Collectors.toCollection(TreeSet::new));
    if (racks.isEmpty() || racks.contains("")) {
      throw new IllegalArgumentException(
          "a rack has no name; write names with commas between them, "
              + NO_RACK
              + " for trackers without a rack");
    }
    if (racks.size() > MOST) {
      throw new IllegalArgumentException(
          "%d racks are too many for one service; at most %d".formatted(racks.size(), MOST));
    }
    if (racks.remove(NO_RACK)) {
      racks.add("");
    }
    return new RackSet(false, racks);
  }

  @Override
  public SortedSet<String> racks() {
    return new TreeSet<>(racks);
  }

  /**
   * @param rack as the roster has it; empty for none
   */
  public boolean has(String rack) {
    return all || racks.contains(rack);
  }

  /**
   * In words: {@code all racks}, {@code rack A}, {@code racks A, B and trackers without a rack}.
   */
  public String words() {
    if (all) {
      return "all racks";
    }
    String named = racks.stream().filter(r -> !r.isEmpty()).collect(Collectors.joining(", "));
    String word = named.contains(", ") ? "racks " : "rack ";
    if (!racks.contains("")) {
      return word + named;
    }
    return named.isEmpty() ? words("") : word + named + " and " + words("");
  }

  /** One rack in words. */
  public static String words(String rack) {
    return rack.isEmpty() ? "trackers without a rack" : "rack " + rack;
  }

  /** For a query that takes the names of racks; every rack passes where it gets null. */
  public String[] names() {
    return all ? null : racks.toArray(String[]::new);
  }

  @Override
  public String toString() {
    return all ? "all" : Arrays.toString(names());
  }
}

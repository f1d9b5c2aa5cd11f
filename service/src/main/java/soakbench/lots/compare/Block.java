package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import soakbench.model.Estimate;
import soakbench.model.Tracker;

/**
 * How the lots' units are spread over something else that may make a difference.
 *
 * @param by what that is: day, rack, power, board
 * @param shared whether lots can be compared within it; null where nothing is known of it
 * @param reason what is amiss; null where lots share it
 * @param table units of each lot in each of its blocks, by block
 * @param difference of two lots, compared within the blocks only, in the figure's unit
 */
public record Block(
    String by, Boolean shared, String reason, List<BlockRow> table, Estimate difference) {

  private static final Map<String, Function<LotUnit, String>> FACTORS = factors();

  private static Map<String, Function<LotUnit, String>> factors() {
    Map<String, Function<LotUnit, String>> factors = new LinkedHashMap<>();
    factors.put("day", LotUnit::day);
    factors.put("rack", unit -> orNull(unit.listed().rack()));
    factors.put("power", unit -> power(unit.listed()));
    factors.put("board", unit -> orNull(unit.listed().board()));
    return factors;
  }

  private static String orNull(String text) {
    return text.isEmpty() ? null : text;
  }

  private static String power(Tracker listed) {
    return listed.power() == Tracker.Power.UNKNOWN ? null : listed.power().name().toLowerCase();
  }

  /** All that is known of how the lots were measured. */
  static List<Block> of(Metric metric, List<Lot> lots) {
    List<Values> values = lots.stream().map(lot -> Values.of(metric, lot)).toList();
    List<Block> blocks = new ArrayList<>();
    FACTORS.forEach((by, block) -> blocks.add(of(by, block, lots, values)));
    return blocks;
  }

  private static Block of(
      String by, Function<LotUnit, String> block, List<Lot> lots, List<Values> values) {
    Map<String, Map<String, Integer>> counts =
        new TreeMap<>(java.util.Comparator.nullsLast(java.util.Comparator.naturalOrder()));
    for (int i = 0; i < lots.size(); i++) {
      for (LotUnit unit : values.get(i).units()) {
        Map<String, Integer> row = counts.computeIfAbsent(block.apply(unit), b -> zeros(lots));
        row.merge(lots.get(i).name(), 1, Integer::sum);
      }
    }
    List<BlockRow> table =
        counts.entrySet().stream().map(e -> new BlockRow(e.getKey(), e.getValue())).toList();
    List<BlockRow> known = table.stream().filter(r -> r.block() != null).toList();
    if (lots.size() < 2 || known.isEmpty()) {
      String why = lots.size() < 2 ? "one lot alone" : "no " + by + " is recorded";
      return new Block(by, null, why, table, Estimate.unknown(why));
    }
    String apart = Overlap.apart(by, lots, known);
    Estimate within =
        lots.size() > 2
            ? Estimate.unknown("of two lots only")
            : apart != null ? Estimate.unknown(apart) : Within.difference(block, values);
    return new Block(by, apart == null, apart, table, within);
  }

  private static Map<String, Integer> zeros(List<Lot> lots) {
    Map<String, Integer> zeros = new LinkedHashMap<>();
    lots.forEach(lot -> zeros.put(lot.name(), 0));
    return zeros;
  }
}

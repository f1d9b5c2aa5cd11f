package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.hipparchus.distribution.continuous.TDistribution;
import soakbench.model.Estimate;

/**
 * Two lots compared within blocks only: the difference of their means in each block that both have,
 * put together by how many units say so (a randomized block layout with unequal counts). What
 * differs between blocks drops out.
 */
final class Within {
  private Within() {}

  /** Figures of the two lots in one block. */
  private record Cell(List<Double> a, List<Double> b) {
    Cell() {
      this(new ArrayList<>(), new ArrayList<>());
    }

    /** Units that a difference of this block counts for. */
    double weight() {
      return (double) a.size() * b.size() / (a.size() + b.size());
    }

    double difference() {
      return mean(b) - mean(a);
    }

    double squares() {
      return squares(a) + squares(b);
    }

    int df() {
      return a.size() + b.size() - 2;
    }

    private static double mean(List<Double> values) {
      return values.stream().mapToDouble(v -> v).average().orElseThrow();
    }

    private static double squares(List<Double> values) {
      double mean = mean(values);
      return values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
    }
  }

  /**
   * Second lot less first, within blocks.
   *
   * @param block of a unit; units without one are left out
   */
  static Estimate difference(Function<LotUnit, String> block, List<Values> values) {
    Map<String, Cell> cells = new HashMap<>();
    for (int lot = 0; lot < 2; lot++) {
      double[] figures = values.get(lot).figures();
      for (int i = 0; i < figures.length; i++) {
        String in = block.apply(values.get(lot).units().get(i));
        if (in != null) {
          Cell cell = cells.computeIfAbsent(in, b -> new Cell());
          (lot == 0 ? cell.a : cell.b).add(figures[i]);
        }
      }
    }
    return together(cells.values().stream().filter(c -> !c.a.isEmpty() && !c.b.isEmpty()).toList());
  }

  private static Estimate together(List<Cell> shared) {
    double weights = shared.stream().mapToDouble(Cell::weight).sum();
    double squares = shared.stream().mapToDouble(Cell::squares).sum();
    int df = shared.stream().mapToInt(Cell::df).sum();
    if (df < 1 || !(squares > 0)) {
      return Estimate.unknown("no block holds enough units of both lots");
    }
    double mean = shared.stream().mapToDouble(c -> c.weight() * c.difference()).sum() / weights;
    double t = new TDistribution(df).inverseCumulativeProbability(0.975);
    return Estimate.of(mean, Math.sqrt(squares / df / weights), t);
  }
}

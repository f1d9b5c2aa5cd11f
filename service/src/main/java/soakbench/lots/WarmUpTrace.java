package soakbench.lots;

import java.util.ArrayList;
import java.util.List;

/**
 * How a unit warmed up in one soak, as measured.
 *
 * @param soak its id
 * @param plateauC where its temperature levels, degC
 * @param temperaturesC at even steps from its first sample on, degC; null where nothing was
 *     measured
 */
public record WarmUpTrace(String soak, double plateauC, List<Double> temperaturesC) {
  /** Of a rise that is smaller a share says little: a tenth of a degree is a twentieth of it. */
  private static final double LEAST_RISE_C = 2;

  /** Why no share of the way can be told; null where it can. */
  public String reason() {
    Double first = startC();
    if (first == null) {
      return "nothing was measured at its beginning";
    }
    return Math.abs(plateauC - first) < LEAST_RISE_C
        ? "it began less than %.0f degC from its plateau".formatted(LEAST_RISE_C)
        : null;
  }

  /**
   * The share of the way from its first temperature to its plateau that it has gone, 0 to about 1,
   * an entry for each temperature; all null where a reason says why.
   */
  public List<Double> shares() {
    List<Double> shares = new ArrayList<>();
    boolean told = reason() == null;
    for (Double t : temperaturesC) {
      shares.add(told && t != null ? (t - startC()) / (plateauC - startC()) : null);
    }
    return shares;
  }

  private Double startC() {
    return temperaturesC.isEmpty() ? null : temperaturesC.get(0);
  }
}

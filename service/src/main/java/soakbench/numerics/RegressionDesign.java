package soakbench.numerics;

/**
 * What a regression over block means is asked to explain, and where each block lies in time.
 *
 * @param columns one row for each block, one entry for each unknown
 * @param priorSd prior of each unknown: its standard deviation about zero, in its own unit;
 *     infinite where nothing is
 * @param midS middle of each block, s, ascending
 * @param widthS width of each block, s
 */
public record RegressionDesign(
    double[][] columns, double[] priorSd, double[] midS, double[] widthS) {

  /**
   * @throws IllegalArgumentException if the arrays' lengths do not fit each other
   */
  public RegressionDesign {
    if (columns.length != midS.length || columns.length != widthS.length) {
      throw new IllegalArgumentException(
          columns.length
              + " rows for "
              + midS.length
              + " middles and "
              + widthS.length
              + " widths");
    }
    for (double[] row : columns) {
      if (row.length != priorSd.length) {
        throw new IllegalArgumentException(
            "a row of " + row.length + " entries for " + priorSd.length + " unknowns");
      }
    }
  }

  int rows() {
    return columns.length;
  }

  int unknowns() {
    return priorSd.length;
  }

  /** Blocks beyond those that the free unknowns take up. */
  public int degreesOfFreedom() {
    int free = 0;
    for (double sd : priorSd) {
      free += Double.isInfinite(sd) ? 1 : 0;
    }
    return rows() - free;
  }

  /** The same with some of its blocks only. */
  public RegressionDesign only(boolean[] kept) {
    return new RegressionDesign(
        Subset.of(columns, kept), priorSd, Subset.of(midS, kept), Subset.of(widthS, kept));
  }
}

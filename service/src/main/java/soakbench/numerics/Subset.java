package soakbench.numerics;

import java.util.stream.IntStream;

/** The entries of arrays that are kept. */
public final class Subset {
  private Subset() {}

  public static double[] of(double[] values, boolean[] kept) {
    return IntStream.range(0, values.length)
        .filter(i -> kept[i])
        .mapToDouble(i -> values[i])
        .toArray();
  }

  public static double[][] of(double[][] rows, boolean[] kept) {
    return IntStream.range(0, rows.length)
        .filter(i -> kept[i])
        .mapToObj(i -> rows[i])
        .toArray(double[][]::new);
  }
}

package soakbench.thermal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/** All temperatures of a soak: by the second at first, then by the block. Not thread-safe. */
final class TemperatureHistory {
  /** So long every second is kept, for the chip's own constant, s; a multiple of a block. */
  private static final double EARLY_S = 600;

  final BlockSeries blocks = new BlockSeries();
  private final BlockSeries early = new BlockSeries();

  void second(double tS, double temperatureC) {
    if (tS < EARLY_S) {
      early.add(tS, temperatureC);
    }
  }

  /** All that was seen. */
  Temperatures all() {
    double[] t = early.timesFrom(0);
    double[] c = early.temperaturesFrom(0);
    int seconds = t.length;
    int first = 0;
    while (first < blocks.size() && blocks.timeS(first) < EARLY_S) {
      first++;
    }
    int n = seconds + blocks.size() - first;
    t = Arrays.copyOf(t, n);
    c = Arrays.copyOf(c, n);
    double[] of = new double[n];
    Arrays.fill(of, 0, seconds, 1);
    for (int i = seconds; i < n; i++) {
      t[i] = blocks.timeS(first + i - seconds);
      c[i] = blocks.temperatureC(first + i - seconds);
      of[i] = TailSpans.BLOCK_S;
    }
    return new Temperatures(t, c, of);
  }

  /** Times and temperatures of all blocks between two breaks, newest stretch first. */
  List<double[][]> between(List<Double> breaksS) {
    List<Double> edges = new ArrayList<>(List.of(TailSpans.CHIP_S));
    breaksS.stream().filter(b -> b > TailSpans.CHIP_S).forEach(edges::add);
    edges.add(Double.POSITIVE_INFINITY);
    List<double[][]> out = new ArrayList<>();
    for (int k = edges.size() - 2; k >= 0; k--) {
      out.add(between(edges.get(k), edges.get(k + 1)));
    }
    return out;
  }

  private double[][] between(double fromS, double toS) {
    double[] t = blocks.timesFrom(0);
    double[] y = blocks.temperaturesFrom(0);
    int[] in = IntStream.range(0, t.length).filter(i -> t[i] >= fromS && t[i] < toS).toArray();
    return new double[][] {
      IntStream.of(in).mapToDouble(i -> t[i]).toArray(),
      IntStream.of(in).mapToDouble(i -> y[i]).toArray()
    };
  }
}

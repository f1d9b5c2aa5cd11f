package soakbench.thermal;

import java.io.Serializable;
import java.util.Arrays;

/** All temperatures of a soak: by the second at first, then by the block. Not thread-safe. */
final class TemperatureHistory implements Serializable {
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

  /** Times of the blocks from {@code fromS} on, s. */
  double[] blockTimesS(double fromS) {
    return Arrays.stream(blocks.timesFrom(0)).filter(t -> t >= fromS).toArray();
  }
}

package soakbench.store;

import java.util.List;
import java.util.stream.IntStream;
import soakbench.model.Sample;

/** Samples of one tracker, 20 ms apart. */
public final class Samples {
  public static final long START_US = 1_772_352_006_453_127L;

  private Samples() {}

  static Sample sample(String tracker, int index) {
    return new Sample(
        tracker,
        START_US + index * 20_000L,
        20 + index / 1000f,
        index % 10 != 0,
        0.31f,
        -0.12f,
        index,
        0,
        0,
        1,
        index,
        index * 20L);
  }

  public static List<Sample> samples(String tracker, int from, int to) {
    return IntStream.range(from, to).mapToObj(i -> sample(tracker, i)).toList();
  }
}

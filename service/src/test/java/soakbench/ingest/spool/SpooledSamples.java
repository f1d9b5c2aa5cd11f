package soakbench.ingest.spool;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import soakbench.model.Sample;

/** Samples of all kinds for tests of the spool. */
public final class SpooledSamples {
  public static final long START_US = 1_772_438_400_000_000L;

  private SpooledSamples() {}

  /** So many samples of several trackers, numbered from {@code from}, 10 ms apart. */
  public static List<Sample> of(int from, int count) {
    List<Sample> samples = new ArrayList<>(count);
    for (int i = from; i < from + count; i++) {
      samples.add(sample(i));
    }
    return samples;
  }

  /** The sample of this number: the same each time, every tenth without rates or temperature. */
  static Sample sample(int i) {
    Random random = new Random(i);
    boolean rates = i % 10 != 3;
    boolean temperature = i % 10 != 7;
    boolean acceleration = i % 3 == 0 && rates;
    return new Sample(
        "T-" + i % 5,
        START_US + i * 10_000L,
        temperature ? 25 + random.nextFloat() : Float.NaN,
        temperature && i % 4 == 0,
        rates ? random.nextFloat() - 0.5f : Float.NaN,
        rates ? -random.nextFloat() * 1e-6f : Float.NaN,
        rates ? random.nextFloat() * 2000 : Float.NaN,
        acceleration ? random.nextFloat() : Float.NaN,
        acceleration ? 0 : Float.NaN,
        acceleration ? 1 : Float.NaN,
        i % 6 == 0 ? -1 : i,
        i % 7 == 0 ? -1 : 4_294_000_000L + i);
  }

  static List<Sample> samples(List<Spool.Entry> entries) {
    return entries.stream().map(Spool.Entry::sample).toList();
  }
}

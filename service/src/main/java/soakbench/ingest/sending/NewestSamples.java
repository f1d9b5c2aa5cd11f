package soakbench.ingest.sending;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import soakbench.model.Sample;

/**
 * The newest sample of each tracker, and beside it the newest whose temperature was measured with
 * it, as far as they were not reported yet. What is older than some seconds is stale, and is
 * dropped. Thread-safe.
 */
public final class NewestSamples {
  private static final long FRESH_NS = TimeUnit.SECONDS.toNanos(10);

  private record Noted(Sample sample, long atNs) {}

  private final LongSupplier nowNs;
  private final Map<String, Noted> newest = new ConcurrentHashMap<>();
  private final Map<String, Noted> measured = new ConcurrentHashMap<>();

  /**
   * @param nowNs a clock that never steps
   */
  public NewestSamples(LongSupplier nowNs) {
    this.nowNs = nowNs;
  }

  public void note(Sample sample) {
    Noted noted = new Noted(sample, nowNs.getAsLong());
    newest.put(sample.tracker(), noted);
    if (sample.measuredTemperature()) {
      measured.put(sample.tracker(), noted);
    }
  }

  /**
   * What is to be reported.
   *
   * @param samples those of each tracker in their order
   * @param done to be run when they were received: removes them, but not what came since
   */
  record Unreported(List<Sample> samples, Runnable done) {}

  /** What came within the last seconds. */
  Unreported unreported() {
    Map<String, Noted> temperatures = fresh(measured);
    Map<String, Noted> others = fresh(newest);
    List<Sample> samples = new ArrayList<>();
    temperatures.values().forEach(noted -> samples.add(noted.sample()));
    others.forEach(
        (tracker, noted) -> {
          if (noted != temperatures.get(tracker)) {
            samples.add(noted.sample());
          }
        });
    return new Unreported(
        samples,
        () -> {
          temperatures.forEach(measured::remove);
          others.forEach(newest::remove);
        });
  }

  private Map<String, Noted> fresh(Map<String, Noted> noted) {
    long nowAtNs = nowNs.getAsLong();
    noted.values().removeIf(each -> nowAtNs - each.atNs() > FRESH_NS);
    return Map.copyOf(noted);
  }
}

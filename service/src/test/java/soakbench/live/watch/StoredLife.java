package soakbench.live.watch;

import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;
import soakbench.live.memory.FaultyStore;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;

/** A live watch over a store that may fail; whoever asked asks again. Not thread-safe. */
final class StoredLife {
  private final FaultyStore store;
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private SoakWatch watch;
  private String program;
  private int failures;

  StoredLife(FaultyStore store) {
    this.store = store;
    this.watch = new SoakWatch(store, null, clock);
  }

  private void surely(Runnable work) {
    surely(
        () -> {
          work.run();
          return null;
        });
  }

  private <T> T surely(Supplier<T> work) {
    try {
      return work.get();
    } catch (StoreException away) {
      failures++;
      return work.get();
    }
  }

  void send(List<Sample> samples) {
    surely(() -> watch.accept(samples));
  }

  /** Time passes, and at its end the live clock ticks. */
  void pass(double seconds) {
    clock.pass(seconds);
    surely(() -> watch.tick());
  }

  void change(Limits limits) {
    surely(() -> watch.change(before -> limits, true, false));
  }

  /** Ends by hand what goes on of a tracker. */
  void end(String tracker) {
    newest(tracker).filter(Soak::open).ifPresent(soak -> surely(() -> watch.end(soak.id())));
  }

  /** A tracker's newest soak that is stored. */
  Optional<Soak> newest(String tracker) {
    return surely(
        () -> {
          try (SoakStore.Unit unit = store.begin()) {
            return unit.soaks(tracker, Long.MIN_VALUE).stream().reduce((a, b) -> b);
          }
        });
  }

  /** From now on its judges are kept. */
  StoredLife keepingJudges(String by) {
    program = by;
    watch.keepJudges(program);
    return this;
  }

  void keepNow() {
    surely(() -> watch.keepNow());
  }

  void restart() {
    watch = new SoakWatch(store, null, clock);
    if (program != null) {
      watch.keepJudges(program);
    }
    surely(() -> watch.restore());
  }

  void settle() {
    surely(() -> watch.settle());
  }

  void finish() {
    surely(() -> watch.finish());
  }

  SoakWatch watch() {
    return watch;
  }

  int failures() {
    return failures;
  }
}

package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.store.server.DatabaseSettings;

/**
 * What one late sample costs in a soak of four hours at ten lines a second, and for how long it
 * keeps another tracker's samples from being taken.
 */
@Tag("bench")
class LateCostTest {
  private static final int TIMES = 10;

  @TempDir Path folder;

  private static Sample at(String tracker, long afterUs) {
    Sample s = Samples.sample(tracker, (int) (afterUs / 100_000));
    return new Sample(
        tracker,
        Samples.START_US + afterUs,
        (float) (30 - 8 * Math.exp(-afterUs / 900e6)),
        false,
        s.gxDps(),
        s.gyDps(),
        0.05f,
        0,
        0,
        1,
        -1,
        -1);
  }

  @Test
  void oneLateSampleInFourHours() throws Exception {
    AtomicLong nowUs = new AtomicLong(Samples.START_US);
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, nowUs::get);
      for (int from = 0; from < 144_000; from += 10_000) {
        int first = from;
        watch.accept(
            IntStream.range(first, Math.min(144_000, first + 10_000))
                .mapToObj(i -> at("A-1", i * 100_000L))
                .toList());
      }
      AtomicLong cpuNs = new AtomicLong();
      ThreadMXBean threads = ManagementFactory.getThreadMXBean();
      Thread[] deriving = new Thread[1];
      watch.deriveWith(
          work -> {
            deriving[0] =
                new Thread(
                    () -> {
                      long before = threads.getCurrentThreadCpuTime();
                      work.run();
                      cpuNs.addAndGet(threads.getCurrentThreadCpuTime() - before);
                    });
            deriving[0].start();
          });
      long alone = 0;
      for (int i = 0; i < 100; i++) {
        long before = System.nanoTime();
        watch.accept(List.of(at("C-3", i * 100_000L)));
        alone = Math.max(alone, System.nanoTime() - before);
      }
      long longestNs = 0;
      int others = 0;
      for (int i = 0; i < TIMES; i++) {
        nowUs.addAndGet(120_000_000);
        // It goes on, or its end would be what costs.
        watch.accept(List.of(at("A-1", 14_400_000_000L + i * 1_000_000L)));
        watch.accept(List.of(at("A-1", 3_600_050_000L + i * 700_000_000L)));
        watch.tick();
        do {
          long before = System.nanoTime();
          watch.accept(List.of(at("B-2", others++ * 100_000L)));
          longestNs = Math.max(longestNs, System.nanoTime() - before);
        } while (deriving[0].isAlive());
      }
      System.out.printf(
          "a late sample: %.0f ms of the deriving thread; another's sample waits %.0f ms at most,"
              + " %.0f where nothing is derived%n",
          cpuNs.get() / 1e6 / TIMES, longestNs / 1e6, alone / 1e6);
      assertThat(longestNs / 1e6).isLessThan(100 * 5);
      assertThat(cpuNs.get() / 1e6 / TIMES).isLessThan(1000);
    }
  }
}

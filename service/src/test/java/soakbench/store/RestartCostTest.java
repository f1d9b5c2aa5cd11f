package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.lang.management.OperatingSystemMXBean;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.store.server.DatabaseSettings;

/** How long a restart takes to judge running soaks again, and to take up judges kept of them. */
@Tag("bench")
class RestartCostTest {
  private static final String PROGRAM = "this program";

  /** Judging twelve soaks of ten hours again, s. */
  private static final double WANTED_S = 5;

  /** Taking up judges that were kept, s. */
  private static final double WANTED_KEPT_S = 2.5;

  @TempDir Path folder;

  private final SplittableRandom random = new SplittableRandom(7);

  private Sample at(int tracker, int second) {
    double celsius = 31 - 8 * Math.exp(-second / (700.0 + 40 * (tracker % 12)));
    return new Sample(
        "A-" + tracker,
        Samples.START_US + second * 1_000_000L,
        (float) (celsius + 0.01 * random.nextGaussian()),
        false,
        (float) (0.02 * celsius + 0.005 * random.nextGaussian()),
        (float) (0.005 * random.nextGaussian()),
        (float) (0.05 + 0.005 * random.nextGaussian()),
        0,
        0,
        1,
        -1,
        -1);
  }

  private static long cpuNs() {
    OperatingSystemMXBean system = ManagementFactory.getOperatingSystemMXBean();
    return ((com.sun.management.OperatingSystemMXBean) system).getProcessCpuTime();
  }

  @Test
  void aRackOfTwelveAfterTenHours() throws Exception {
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      soaks(database, 12, 10 * 3600);
      restored(database, "another program", 12, WANTED_S);
      restored(database, PROGRAM, 12, WANTED_KEPT_S);
    }
  }

  @Test
  void aPlantOfTwoHundredAfterAnHour() throws Exception {
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      soaks(database, 200, 3600);
      restored(database, "another program", 200, Double.POSITIVE_INFINITY);
      restored(database, PROGRAM, 200, WANTED_KEPT_S);
    }
  }

  private void soaks(Database database, int trackers, int lengthS) {
    SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    watch.keepJudges(PROGRAM);
    for (int from = 0; from < lengthS; from += 600) {
      List<Sample> lines = new ArrayList<>();
      for (int second = from; second < from + 600; second++) {
        for (int tracker = 0; tracker < trackers; tracker++) {
          lines.add(at(tracker, second));
        }
      }
      watch.accept(lines);
    }
    long fromNs = System.nanoTime();
    watch.keepNow();
    System.out.printf("%d judges kept in %.1f s%n", trackers, (System.nanoTime() - fromNs) / 1e9);
  }

  private static void restored(Database database, String program, int trackers, double wantedS) {
    SoakWatch watch = new SoakWatch(database.soakStore(), null, () -> 0);
    watch.keepJudges(program);
    long fromNs = System.nanoTime();
    long fromCpuNs = cpuNs();
    watch.restore();
    double tookS = (System.nanoTime() - fromNs) / 1e9;
    System.out.printf(
        "%d soaks restored in %.1f s, %.1f s of processor%n",
        trackers, tookS, (cpuNs() - fromCpuNs) / 1e9);
    assertThat(watch.readiness()).hasSize(trackers).allMatch(r -> r.state() == State.READY);
    assertThat(tookS)
        .as("seconds; twice what is wanted, for a busy machine")
        .isLessThan(2 * wantedS);
  }
}

package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.Service;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.DeliveryTotals;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.Sample;

/** Ten minutes of a rack, spooled while the service was away. How fast: {@code bench catch-up}. */
@ExtendWith(Service.Running.class)
class CatchUpTest {
  private static final int TRACKERS = 6;
  private static final int SECONDS = 600;
  private static final int RATE_HZ = 20;

  @TempDir private Path folder;

  @Test
  void everySampleOfTenMinutesIsStoredOnceWithThoseThatCameMeanwhileBehindThem(Service service) {
    try (SqliteSpool spool = SqliteSpool.open(folder.resolve("spool.db"), 1 << 28)) {
      for (int second = 0; second < SECONDS; second++) {
        spool.append(second(second));
      }
      RackFile none = new RackFile("", List.of());
      HttpDestination to = new HttpDestination(service.server.url(), () -> null);
      try (Agent agent = new Agent(none, spool, to, why -> {})) {
        agent.start();
        for (int second = SECONDS; second < SECONDS + 20; second++) {
          spool.append(second(second));
        }
        await().atMost(Duration.ofSeconds(90)).until(() -> agent.waiting() == 0);
        long all = (long) TRACKERS * (SECONDS + 20) * RATE_HZ;
        assertThat(agent.totals()).isEqualTo(new DeliveryTotals(all, 0, 0, 0));
      }
    }
    for (int tracker = 0; tracker < TRACKERS; tracker++) {
      assertThat(stored(service, id(tracker))).isEqualTo(all(tracker));
    }
  }

  private static String id(int tracker) {
    return "AWAY-" + tracker;
  }

  private static List<Sample> second(int second) {
    List<Sample> samples = new ArrayList<>();
    for (int i = 0; i < RATE_HZ; i++) {
      for (int tracker = 0; tracker < TRACKERS; tracker++) {
        samples.add(sample(tracker, second * RATE_HZ + i));
      }
    }
    return samples;
  }

  private static List<Sample> all(int tracker) {
    List<Sample> samples = new ArrayList<>();
    for (int number = 0; number < (SECONDS + 20) * RATE_HZ; number++) {
      samples.add(sample(tracker, number));
    }
    return samples;
  }

  private static Sample sample(int tracker, int number) {
    return new Sample(
        id(tracker),
        Service.START_US + number * (1_000_000L / RATE_HZ) + tracker,
        20 + number / 3000f,
        number % 5 != 0,
        0.25f + number % 7 * 0.001f,
        -0.5f,
        tracker / 10f,
        0,
        0,
        1,
        number,
        50L * number);
  }

  private static List<Sample> stored(Service service, String tracker) {
    List<Sample> stored = new ArrayList<>();
    service.database.archive().samples(tracker, 0, Long.MAX_VALUE, stored::add);
    return stored;
  }
}

package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.api.http.TrackerNames;
import soakbench.model.Tracker;

class NamesMistakenTest {
  private static final Tracker KESTREL =
      new Tracker(
          "T-9",
          "Kestrel",
          "",
          "",
          "",
          "window",
          "",
          Tracker.Power.UNKNOWN,
          Tracker.Rates.RAW,
          0,
          "");

  private final AtomicInteger asked = new AtomicInteger();
  private volatile boolean mistaken;
  private final TrackerNames names =
      new TrackerNames(
          () -> {
            asked.incrementAndGet();
            if (mistaken) {
              throw new IllegalStateException("a mistake");
            }
            return List.of(KESTREL);
          });

  @Test
  void aMistakeWhileTheRosterIsReadLeavesTheNamesAsTheyWereAndIsSaidOnce() {
    assertThat(names.of("T-9")).isEqualTo("Kestrel");
    mistaken = true;
    try (LogLines log = new LogLines("soakbench.api.http.TrackerNames")) {
      // Nobody waits long for a roster: on a busy machine it is asked after the answer.
      await()
          .until(
              () -> {
                names.forget();
                assertThat(names.of("T-9")).isEqualTo("Kestrel");
                return asked.get() > 3;
              });
      assertThat(log.lines()).filteredOn(line -> line.contains("mistake")).hasSize(1);
    }
    mistaken = false;
    names.forget();
    await().until(() -> names.rackOf("T-9").equals("window"));
  }

  @Test
  void whereNothingWasEverReadAnAlarmIsToldByTheId() {
    mistaken = true;
    assertThat(names.of("T-9")).isEqualTo("T-9");
  }
}

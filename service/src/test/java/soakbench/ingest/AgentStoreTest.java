package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.live.Sink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

class AgentStoreTest extends AgentRig {

  @Test
  void whileTheStoreIsAwayTheSameSamplesAreTriedAgainAndNoneIsLost() throws IOException {
    AtomicBoolean away = new AtomicBoolean(true);
    Sink sink =
        samples -> {
          if (away.get()) {
            throw new StoreException("the database is away", null, true);
          }
          return memory.accept(samples);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, Agent.QUEUE_SIZE, slots(List.of(device)));
    awaitOpen(agent);
    for (int seq = 0; seq < 50; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> agent.trouble().isPresent());
    await().until(() -> agent.waiting() == 50);
    assertThat(agent.trouble()).contains("the database is away");
    away.set(false);
    await().until(() -> count("T-1") == 50);
    await().until(() -> agent.trouble().isEmpty());
    assertThat(stored.get("T-1")).extracting(Sample::seq).isSorted().doesNotHaveDuplicates();
    assertThat(failures).isEmpty();
  }

  @Test
  void aFullQueueMakesReadingWaitAndSaysSo() throws IOException {
    AtomicBoolean away = new AtomicBoolean(true);
    Sink sink =
        samples -> {
          if (away.get()) {
            throw new StoreException("the database is away", null, true);
          }
          return memory.accept(samples);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, 20, slots(List.of(device)));
    awaitOpen(agent);
    for (int seq = 0; seq < 100; seq++) {
      String line = line("T-1", seq);
      assertThat(device.write(line)).isEqualTo(line.length());
    }
    await().until(() -> agent.waiting() >= 20);
    assertThat(agent.sources().get(0).counts().readings()).isLessThan(100);
    away.set(false);
    await().until(() -> count("T-1") == 100);
    assertThat(stored.get("T-1")).extracting(Sample::seq).isSorted().doesNotHaveDuplicates();
  }

  @Test
  void aStoreThatRefusesForGoodStopsReadingAndIsTold() throws IOException {
    Sink sink =
        samples -> {
          throw new StoreException("the schema is newer than this program", null, false);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, Agent.QUEUE_SIZE, slots(List.of(device)));
    awaitOpen(agent);
    device.write(line("T-1", 0) + line("T-1", 1));
    await().until(() -> agent.failure().isPresent());
    await().until(() -> !failures.isEmpty());
    assertThat(failures)
        .containsExactly(
            "samples can't be stored, so reading has stopped: "
                + "the schema is newer than this program");
  }

  @Test
  void closingStoresWhatWasRead() throws IOException {
    PseudoTerminal device = device();
    Agent agent = start(slots(List.of(device)));
    awaitOpen(agent);
    for (int seq = 0; seq < 100; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> agent.sources().get(0).counts().readings() == 100);
    agent.close();
    assertThat(count("T-1")).isEqualTo(100);
    assertThat(agent.waiting()).isZero();
    assertThat(agent.lost()).isZero();
    agent.close();
  }

  @Test
  void closingWhileTheStoreIsAwayEndsAndLosesOnlyWhatItSays() throws IOException {
    Sink sink =
        samples -> {
          throw new StoreException("the database is away", null, true);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, 5, slots(List.of(device)));
    awaitOpen(agent);
    for (int seq = 0; seq < 50; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> agent.waiting() >= 5);
    long began = System.nanoTime();
    agent.close();
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(6));
    assertThat(agent.lost()).isEqualTo(agent.sources().get(0).counts().readings()).isPositive();
  }
}

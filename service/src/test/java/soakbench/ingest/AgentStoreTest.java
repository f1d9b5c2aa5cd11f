package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.LongStream;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

class AgentStoreTest extends AgentRig {

  @Test
  void whileTheStoreIsAwayTheSameSamplesAreTriedAgainAndNoneIsLost() throws IOException {
    AtomicBoolean away = new AtomicBoolean(true);
    SampleSink sink =
        samples -> {
          if (away.get()) {
            throw new StoreException("the database is away", null, true);
          }
          return memory.accept(samples);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, slots(List.of(device)));
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
  void aFullSpoolStopsReadingAndSaysSoAndNothingThatWasReadIsLost() throws IOException {
    AtomicBoolean away = new AtomicBoolean(true);
    SampleSink sink =
        samples -> {
          if (away.get()) {
            throw new StoreException("the database is away", null, true);
          }
          return memory.accept(samples);
        };
    PseudoTerminal device = device();
    Spool spool = spool("spool.db", 64 * 1024);
    Agent agent = start(sink, spool, 20, slots(List.of(device)));
    awaitOpen(agent);
    Printer printer = new Printer(device);
    await()
        .pollInterval(Duration.ofMillis(2))
        .until(
            () -> {
              printer.print();
              return agent.trouble().orElse("").contains("is full");
            });
    await()
        .during(Duration.ofMillis(600))
        .until(
            () -> {
              long before = agent.sources().get(0).heard().counts().readings();
              printer.print();
              return before == agent.sources().get(0).heard().counts().readings();
            });
    assertThat(spool.status().usedBytes()).isLessThan(80 * 1024);
    assertThat(agent.sources().get(0).heard().counts().readings()).isLessThan(printer.begun());
    away.set(false);
    await()
        .until(
            () -> {
              printer.finish();
              return printer.isWhole();
            });
    await().until(() -> count("T-1") == printer.begun());
    await().until(() -> agent.trouble().isEmpty());
    assertThat(stored.get("T-1")).extracting(Sample::seq).isSorted().doesNotHaveDuplicates();
  }

  /** Prints lines as far as the terminal has room; what did not fit goes on before the next. */
  private static final class Printer {
    private final PseudoTerminal device;
    private String rest = "";
    private int begun;

    Printer(PseudoTerminal device) {
      this.device = device;
    }

    void print() {
      if (rest.isEmpty()) {
        rest = line("T-1", begun++);
      }
      rest = rest.substring(device.write(rest));
    }

    /** How many lines were printed or begun. */
    int begun() {
      return begun;
    }

    boolean isWhole() {
      return rest.isEmpty();
    }

    void finish() {
      rest = rest.substring(device.write(rest));
    }
  }

  @Test
  void aStoreThatRefusesForGoodStopsReadingAndIsTold() throws IOException {
    SampleSink sink =
        samples -> {
          throw new StoreException("the schema is newer than this program", null, false);
        };
    PseudoTerminal device = device();
    Agent agent = start(sink, slots(List.of(device)));
    awaitOpen(agent);
    device.write(line("T-1", 0) + line("T-1", 1));
    await().until(() -> agent.failure().isPresent());
    await().until(() -> !failures.isEmpty());
    assertThat(failures)
        .containsExactly(
            "samples can't be stored, so reading has stopped: "
                + "the schema is newer than this program");
  }

  @RepeatedTest(8)
  void closingStoresWhatWasRead() throws IOException {
    PseudoTerminal device = device();
    Agent agent = start(slots(List.of(device)));
    awaitOpen(agent);
    for (int seq = 0; seq < 100; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> agent.sources().get(0).heard().counts().readings() == 100);
    agent.close();
    assertThat(count("T-1")).isEqualTo(100);
    assertThat(agent.waiting()).isZero();
    assertThat(agent.lost()).isZero();
    agent.close();
  }

  @Test
  void whatIsLeftWhenTheAgentIsClosedIsSentByTheNextOneInOrder() throws IOException {
    SampleSink away =
        samples -> {
          throw new StoreException("the database is away", null, true);
        };
    PseudoTerminal device = device();
    Spool spool = spool("spool.db", SqliteSpool.DEFAULT_LIMIT_BYTES);
    Agent first = start(away, spool, Agent.QUEUE_SIZE, slots(List.of(device)));
    awaitOpen(first);
    for (int seq = 0; seq < 50; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> first.sources().get(0).heard().counts().readings() == 50);
    long began = System.nanoTime();
    first.close();
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(3));
    assertThat(first.lost()).isZero();
    assertThat(spool.status().waiting()).isEqualTo(50);
    spool.close();

    Spool again = spool("spool.db", SqliteSpool.DEFAULT_LIMIT_BYTES);
    Agent second = start(memory, again, Agent.QUEUE_SIZE, slots(List.of(device)));
    awaitOpen(second);
    for (int seq = 50; seq < 60; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> count("T-1") >= 59);
    List<Long> seqs = stored.get("T-1").stream().map(Sample::seq).toList();
    assertThat(seqs).startsWith(LongStream.range(0, 50).boxed().toArray(Long[]::new)).isSorted();
    assertThat(stored.get("T-1")).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    assertThat(second.spool().waiting()).isZero();
  }
}

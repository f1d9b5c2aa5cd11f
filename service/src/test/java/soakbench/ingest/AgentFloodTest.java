package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/** A port that floods, or a tracker that keeps starting anew, beside others that go on. */
class AgentFloodTest extends AgentRig {
  private static final int GOOD = 11;
  private static final long MIB = 1 << 20;

  @Test
  void aFloodOfGarbageCostsElevenOtherPortsNothingAndFillsNeitherMemoryNorLog() throws Exception {
    flooded(300);
  }

  @Test
  @Tag("bench")
  void norDoesOneOfTenSeconds() throws Exception {
    flooded(1000);
  }

  /**
   * @param lines that each of the others prints meanwhile, a hundred a second
   */
  private void flooded(int lines) throws Exception {
    PseudoTerminal flooding = device();
    List<PseudoTerminal> devices = new ArrayList<>();
    devices.add(flooding);
    for (int i = 0; i < GOOD; i++) {
      devices.add(device());
    }
    Agent agent = start(slots(devices));
    awaitOpen(agent);
    try (Flood flood = new Flood(flooding);
        LogLines log = new LogLines("soakbench")) {
      // What the flood makes once is there before memory is looked at.
      await().until(() -> flood.bytes() > 20 * MIB);
      long memoryBefore = usedAfterCollection();
      long bytesBefore = flood.bytes();
      every(
          Duration.ofMillis(10),
          lines,
          seq -> {
            for (int i = 1; i <= GOOD; i++) {
              String line = line("T-" + i, seq);
              assertThat(devices.get(i).write(line)).isEqualTo(line.length());
            }
          });
      for (int i = 1; i <= GOOD; i++) {
        String tracker = "T-" + i;
        await().until(() -> count(tracker) == lines);
        assertThat(stored.get(tracker))
            .extracting(Sample::seq)
            .isEqualTo(LongStream.range(0, lines).boxed().toList());
      }
      assertThat(flood.bytes() - bytesBefore)
          .as("bytes of garbage")
          .isGreaterThan(20 * MIB * lines / 1000);
      long kept = GOOD * lines * 200L;
      assertThat(usedAfterCollection() - memoryBefore).isLessThan(kept + 8 * MIB);
      assertThat(log.lines()).hasSizeLessThan(5);
    }
    SourceStatus status = agent.sources().get(0);
    assertThat(status.heard().counts().rejectedTotal()).isGreaterThan(10_000);
    assertThat(status.heard().counts().rejected().values())
        .allSatisfy(c -> assertThat(c.example().length()).isLessThan(300));
    assertThat(status.heard().counts().rejected().get(Kind.CHATTER).example()).isNotEmpty();
    assertThat(stored).hasSize(GOOD);
  }

  private static long usedAfterCollection() {
    System.gc();
    Runtime runtime = Runtime.getRuntime();
    return runtime.totalMemory() - runtime.freeMemory();
  }

  /** Random bytes at full speed until it is closed. */
  private static final class Flood implements AutoCloseable {
    private final AtomicLong bytes = new AtomicLong();
    private final Thread thread;
    private volatile boolean closing;

    Flood(PseudoTerminal into) {
      thread =
          new Thread(
              () -> {
                byte[] garbage = new byte[4096];
                Random random = new Random(1);
                while (!closing) {
                  random.nextBytes(garbage);
                  bytes.addAndGet(into.write(garbage));
                }
              },
              "flood");
      thread.start();
    }

    long bytes() {
      return bytes.get();
    }

    @Override
    public void close() throws InterruptedException {
      closing = true;
      thread.join();
    }
  }

  @Test
  void aTrackerThatKeepsStartingAnewLosesOnlyTheLinesItBrokeOff() throws Exception {
    PseudoTerminal device = device();
    Agent agent = start(slots(List.of(device)));
    awaitOpen(agent);
    int boots = 10;
    int linesABoot = 25;
    AtomicLong whole = new AtomicLong();
    every(
        Duration.ofMillis(20),
        boots * linesABoot,
        at -> {
          int ofBoot = at % linesABoot;
          if (ofBoot == 0) {
            // It went down in the middle of a line, and says hello as it comes up.
            write(device, at == 0 ? "" : "{\"id\":\"T-1\",\"seq\":" + at + ",\"t_m");
            write(device, "\r\nrst:0x1 boot\r\nimu ok\r\n");
          }
          write(device, sinceBoot(ofBoot));
          whole.incrementAndGet();
        });
    await().until(() -> count("T-1") == boots * linesABoot);
    List<Sample> samples = stored.get("T-1");
    assertThat(samples).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    for (int boot = 0; boot < boots; boot++) {
      assertThat(samples.subList(boot * linesABoot, (boot + 1) * linesABoot))
          .as("lines of boot " + boot)
          .extracting(Sample::seq)
          .isEqualTo(LongStream.range(0, linesABoot).boxed().toList());
    }
    SourceStatus status = agent.sources().get(0);
    assertThat(status.heard().counts().readings()).isEqualTo(whole.get());
    assertThat(status.heard().counts().of(Kind.CHATTER)).isEqualTo(2L * boots);
    assertThat(status.heard().counts().of(Kind.HALF_LINE)).isEqualTo(boots - 1L);
    assertThat(status.heard().counts().rejectedTotal()).isEqualTo(3L * boots - 1);
    assertThat(status.heard().lost()).as("a reboot is no gap").isZero();
  }

  /** Its counters begin at nothing. */
  private static String sinceBoot(int seq) {
    return "{\"id\":\"T-1\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.1,-0.2,0.3]}\r\n"
        .formatted(seq, 20 * seq);
  }

  private static void write(PseudoTerminal device, String text) {
    assertThat(device.write(text)).isEqualTo(text.length());
  }
}

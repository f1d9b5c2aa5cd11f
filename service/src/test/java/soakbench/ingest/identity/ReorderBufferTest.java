package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.LiveBytes;
import soakbench.ingest.net.NetSender;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/** Lines of one sender that a network let overtake each other. */
class ReorderBufferTest {
  private static final long START_US = 1_772_352_000_000_000L;

  private final List<Sample> samples = new ArrayList<>();
  private final LineCounters counters = new LineCounters();
  private final NetSender sender =
      new NetSender(
          "10.0.0.2:4000",
          LineSettings.NONE,
          new IdOwners(tracker -> Reading.NO_TIME, samples::add),
          counters,
          () -> {},
          true);
  private long nowUs = START_US;

  private void send(String line) {
    byte[] bytes = (line + "\n").getBytes(UTF_8);
    sender.feed(bytes, bytes.length, nowUs);
    nowUs += 10_000;
    sender.release(nowUs);
  }

  private void quiet() {
    nowUs += 2 * ReorderBuffer.WAIT_US;
    sender.release(nowUs);
  }

  private void counted(int seq) {
    send("{\"id\":\"T-1\",\"seq\":%d,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}".formatted(seq));
  }

  private void timed(int seq, int tMs) {
    send(
        "{\"id\":\"T-1\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}"
            .formatted(seq, tMs));
  }

  private List<Long> seqs() {
    return samples.stream().map(Sample::seq).toList();
  }

  @Test
  void halvesOfOneTimeAreBothTakenInWhateverOrder() {
    for (int i = 0; i < 100; i++) {
      String temperature = "{\"id\":\"T-1\",\"t_ms\":%d,\"temp_c\":24.5}".formatted(3000 + 20 * i);
      String rates = "{\"id\":\"T-1\",\"t_ms\":%d,\"gyro_dps\":[1,2,3]}".formatted(3000 + 20 * i);
      send(i % 3 == 0 ? rates : temperature);
      send(i % 3 == 0 ? temperature : rates);
    }
    quiet();
    sender.stop();
    assertThat(samples.stream().filter(s -> !Float.isNaN(s.gxDps()))).hasSize(100);
    assertThat(counters.snapshot().rejectedTotal()).isZero();
  }

  @Test
  void aRebootIsNoDisorderWhateverTheLinesTell() {
    for (int lines : new int[] {20, 100, 1500}) {
      samples.clear();
      IntStream.range(0, lines).forEach(this::counted);
      quiet();
      IntStream.range(0, 200).forEach(this::counted);
      quiet();
      assertThat(samples).as("seq only, reboot after %d lines", lines).hasSize(lines + 200);
      assertThat(seqs().subList(lines, lines + 200))
          .isEqualTo(IntStream.range(0, 200).mapToObj(i -> (long) i).toList());
    }
  }

  @Test
  void theFirstLinesAfterARebootAreOrderedToo() {
    IntStream.range(0, 300).forEach(i -> timed(i, 5000 + 10 * i));
    for (int seq : new int[] {3, 0, 1, 2, 5, 4, 6, 7}) {
      timed(seq, 10 * seq);
    }
    quiet();
    assertThat(seqs().subList(300, 308)).containsExactly(0L, 1L, 2L, 3L, 4L, 5L, 6L, 7L);
    assertThat(samples).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    assertThat(counters.snapshot().rejectedTotal()).isZero();
  }

  @Test
  void aLineIsTakenOnceHoweverOftenItComes() {
    int[] order = {0, 1, 3, 3, 2, 1, 4, 6, 5, 6, 7};
    for (int seq : order) {
      timed(seq, 5000 + 10 * seq);
    }
    quiet();
    assertThat(seqs()).containsExactly(0L, 1L, 2L, 3L, 4L, 5L, 6L, 7L);
    assertThat(counters.snapshot().of(Kind.NOT_RISING)).isEqualTo(3);
    assertThat(counters.snapshot().readings()).isEqualTo(8);
  }

  @Test
  void aMissingLineHoldsUpTheOthersForHalfASecond() {
    timed(0, 5000);
    quiet();
    timed(2, 5020);
    timed(3, 5030);
    assertThat(seqs()).containsExactly(0L);
    quiet();
    assertThat(seqs()).containsExactly(0L, 2L, 3L);
    timed(1, 5010);
    timed(4, 5040);
    assertThat(seqs()).containsExactly(0L, 2L, 3L, 4L);
    assertThat(counters.snapshot().of(Kind.NOT_RISING)).isEqualTo(1);
  }

  @Test
  void inventedIdsInGoodLinesFillNoMemory() {
    long before = 0;
    for (int i = 0; i < 120_000; i++) {
      send("{\"id\":\"X-%d\",\"seq\":1,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}".formatted(i));
      samples.clear();
      before = i == 30_000 ? LiveBytes.now() : before;
    }
    assertThat(LiveBytes.now() - before).as("growth of live data, bytes").isLessThan(1L << 20);
    assertThat(counters.snapshot().of(Kind.BAD_ID)).isGreaterThan(115_000);
  }
}

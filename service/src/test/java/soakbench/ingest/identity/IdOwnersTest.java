package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.SourceReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/** Two sources that hear one id; a line is read each 20 ms unless said otherwise. */
class IdOwnersTest {
  private static final long START_US = 1_770_000_000_000_000L;

  private final List<Sample> samples = new ArrayList<>();
  private final List<String> reboots = new ArrayList<>();
  private final IdOwners owners = new IdOwners(tracker -> Reading.NO_TIME, samples::add);
  private final SourceReader first = source("slot A1");
  private final SourceReader second = source("slot A2");

  private SourceReader source(String label) {
    return new SourceReader(LineSettings.NONE, owners, label, id -> reboots.add(label + " " + id));
  }

  private static String line(int seq) {
    return "{\"id\":\"T-1\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":25.5,\"gyro_dps\":[1,2,3]}\n"
        .formatted(seq, 1000 + 20 * seq);
  }

  /** Lines from this one up to before the other, each read when it was sent. */
  private static void feed(SourceReader reader, int from, int to) {
    for (int seq = from; seq < to; seq++) {
      feedAt(reader, seq, START_US + 20_000L * seq);
    }
  }

  private static void feedAt(SourceReader reader, int seq, long atUs) {
    byte[] bytes = line(seq).getBytes(UTF_8);
    reader.feed(bytes, bytes.length, atUs);
  }

  private List<Long> seqs() {
    return samples.stream().map(Sample::seq).toList();
  }

  private static List<Long> range(int from, int to) {
    return IntStream.range(from, to).mapToObj(i -> (long) i).toList();
  }

  private void assertTimesRise() {
    List<Long> times = samples.stream().map(Sample::timeUs).toList();
    assertThat(times).isSorted().doesNotHaveDuplicates();
  }

  @Test
  void anIdThatMovesWithoutAPauseLosesNothingThoughTheOldPortIsThereStill() {
    feed(first, 0, 100);
    feed(second, 100, 200);
    assertThat(seqs()).as("held back until it's clear").isEqualTo(range(0, 100));
    feed(second, 200, 300);
    assertThat(seqs()).isEqualTo(range(0, 300));
    assertTimesRise();
    assertThat(samples.get(299).timeUs() - samples.get(0).timeUs())
        .isBetween(5_978_000L, 5_982_000L);
    assertThat(second.counts().readings()).isEqualTo(200);
    assertThat(first.lost(START_US + 60_000_000) + second.lost(START_US + 60_000_000)).isZero();
    assertThat(second.has("T-1")).isTrue();
    assertThat(first.has("T-1")).isFalse();
  }

  @Test
  void anIdWhosePortIsGoneGoesOnElsewhereAtOnce() {
    feed(first, 0, 100);
    first.gone();
    feed(second, 110, 111);
    assertThat(seqs()).hasSize(101).endsWith(110L);
    assertThat(first.lost(START_US + 60_000_000)).isZero();
    assertThat(second.lost(START_US + 60_000_000)).as("10 lines came nowhere").isEqualTo(10);
  }

  @Test
  void ofTwoTrackersWithOneIdTheFirstIsKeptAndTheOtherCountedAndTold() {
    for (int seq = 0; seq < 300; seq++) {
      feedAt(first, seq, START_US + 20_000L * seq);
      feedAt(second, 70_000 + seq, START_US + 20_000L * seq + 7_000);
    }
    assertThat(seqs()).isEqualTo(range(0, 300));
    assertThat(first.counts().readings()).isEqualTo(300);
    assertThat(second.counts().of(Kind.OTHER_SOURCE)).isEqualTo(299);
    assertThat(second.counts().readings()).as("the newest is still held back").isEqualTo(1);
    long nowUs = START_US + 6_000_000;
    assertThat(first.notice(nowUs))
        .hasValue(
            "T-1 comes from slot A2 as well: the lines from here are taken; give one of the two"
                + " another id, or unplug one");
    assertThat(second.notice(nowUs))
        .hasValue(
            "T-1 comes from slot A1 as well: the lines from here are not taken; give one of the"
                + " two another id, or unplug one");
    assertThat(second.notice(nowUs + 11_000_000)).as("it's over").isEmpty();
  }

  @Test
  void theOtherOfTwoTrackersIsTakenOnceTheFirstIsSilent() {
    feed(first, 0, 10);
    feed(second, 10, 12);
    feed(first, 12, 13);
    feed(second, 13, 200);
    assertThat(second.counts().of(Kind.OTHER_SOURCE)).isEqualTo(2);
    assertThat(seqs()).hasSize(11 + 187);
    assertTimesRise();
  }

  @Test
  void aSlowTrackerIsNotTakenForOneThatWentAway() {
    for (int i = 0; i < 6; i++) {
      feedAt(first, 250 * i, START_US + 5_000_000L * i);
      feedAt(second, 900_000 + 250 * i, START_US + 5_000_000L * i + 4_000_000);
    }
    assertThat(samples).extracting(Sample::seq).allMatch(seq -> seq < 900_000);
    assertThat(second.counts().of(Kind.OTHER_SOURCE)).isEqualTo(5);
  }

  @Test
  void aRebootIsToldToTheSourceThatHearsTheTracker() {
    feed(first, 0, 100);
    first.gone();
    feed(second, 100, 101);
    assertThat(reboots).isEmpty();
    feedAt(second, 0, START_US + 9_000_000);
    assertThat(reboots).containsExactly("slot A2 T-1");
  }

  @Test
  void linesHeldBackAtTheEndAreHandedOn() {
    feed(first, 0, 10);
    feed(second, 10, 20);
    first.stop();
    second.stop();
    assertThat(seqs()).isEqualTo(range(0, 20));
  }

  @Test
  void aThirdSourceWaitsForItsTurn() {
    SourceReader third = source("slot A3");
    feed(first, 0, 10);
    feed(second, 10, 20);
    feed(third, 20, 21);
    assertThat(third.counts().of(Kind.OTHER_SOURCE)).isEqualTo(1);
    feedAt(third, 200, START_US + 4_000_000);
    assertThat(seqs())
        .as("the second had it meanwhile")
        .hasSize(21)
        .startsWith(range(0, 20).toArray(Long[]::new))
        .endsWith(200L);
    assertTimesRise();
  }
}

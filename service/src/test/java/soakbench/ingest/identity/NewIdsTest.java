package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.ingest.source.SourceReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/** Which ids count on a live door, and what a flood of them may fill. */
class NewIdsTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final long S = 1_000_000;

  private final List<Sample> samples = new ArrayList<>();
  private final List<Arrival> heard = new ArrayList<>();
  private final IdOwners owners =
      new IdOwners(
          tracker -> tracker.startsWith("OLD") ? START_US - 3600 * S : Reading.NO_TIME,
          samples::add,
          new IngestRules(StampTolerance.USUAL, () -> 0, false, heard::add, "SLOT"::equals));
  private final SourceReader port = source("slot A1");
  private long readUs = START_US;
  private int count;

  private SourceReader source(String label) {
    return new SourceReader(LineSettings.NONE, owners, label, id -> {});
  }

  private void line(SourceReader at, String id) {
    byte[] bytes =
        "{\"id\":\"%s\",\"temp_c\":%d.25,\"gyro_dps\":[0,0,0]}\n"
            .formatted(id, count++ % 40)
            .getBytes(UTF_8);
    at.feed(bytes, bytes.length, readUs);
    readUs += 10_000;
  }

  @Test
  void aNewIdCountsFromItsSecondLineWithinTwoMinutesAndItsFirstIsNotLost() {
    line(port, "T-1");
    assertThat(samples).isEmpty();
    assertThat(heard).isEmpty();
    assertThat(port.heardOnce(readUs)).containsExactly("T-1");
    assertThat(port.trackers()).isEmpty();
    readUs += 119 * S;
    line(port, "T-1");
    assertThat(samples).extracting(Sample::temperatureC).containsExactly(0.25f, 1.25f);
    assertThat(samples.get(1).timeUs() - samples.get(0).timeUs()).isEqualTo(119 * S + 10_000);
    assertThat(heard).hasSize(2);
    assertThat(port.heardOnce(readUs)).isEmpty();
    assertThat(port.trackers()).containsExactly("T-1");
  }

  @Test
  void aSecondLineThatComesTooLateIsAFirstOneAgain() {
    line(port, "T-1");
    readUs += 121 * S;
    assertThat(port.heardOnce(readUs)).isEmpty();
    line(port, "T-1");
    assertThat(samples).isEmpty();
    line(port, "T-1");
    assertThat(samples).extracting(Sample::temperatureC).containsExactly(1.25f, 2.25f);
  }

  @Test
  void theFirstLineOnceMoreIsNoSecondOneAndNoReading() {
    byte[] doubled = "{\"id\":\"T-1\",\"seq\":7,\"temp_c\":20}\n".getBytes(UTF_8);
    port.feed(doubled, doubled.length, readUs);
    port.feed(doubled, doubled.length, readUs + 1000);
    assertThat(port.counts().readings()).isEqualTo(1);
    assertThat(port.counts().of(Kind.NOT_RISING)).isEqualTo(1);
    assertThat(samples).isEmpty();
  }

  @Test
  void anIdThatIsExpectedOrWasStoredBeforeCountsAtOnce() {
    line(port, "SLOT");
    line(port, "OLD");
    assertThat(samples).extracting(Sample::tracker).containsExactly("SLOT", "OLD");
    assertThat(heard).hasSize(2);
  }

  @Test
  void theSecondLineMayComeByAnotherConnection() {
    line(source("connection 1"), "T-1");
    line(source("connection 2"), "T-1");
    assertThat(samples).hasSize(2);
  }

  @Test
  void aFloodOfGarbledIdsMakesNoTrackerAndShutsNobodyOut() {
    for (int i = 0; i < 20_000; i++) {
      line(port, "X" + i);
      if (i % 100 == 0) {
        line(port, "T-1");
      }
    }
    assertThat(samples).hasSize(200).extracting(Sample::tracker).containsOnly("T-1");
    assertThat(port.trackers()).containsExactly("T-1");
    assertThat(port.heardOnce(readUs)).hasSize(32);
  }

  @Test
  void inventedIdsAreBoundedAtATimeAndADayAndALiveOneIsNeverDropped() {
    for (int round = 0; round < 6; round++) {
      for (int i = 0; i < 300; i++) {
        line(port, "X" + round + "-" + i);
        line(port, "X" + round + "-" + i);
        line(port, "T-1");
      }
      // The invented ones fall silent; the live one goes on meanwhile.
      for (int i = 0; i < 25; i++) {
        readUs += 60 * S;
        line(port, "T-1");
      }
    }
    assertThat(samples.stream().map(Sample::tracker).distinct().count())
        .as("with T-1")
        .isBetween(1000L, (long) SampleStamper.MOST_NEW_A_DAY);
    assertThat(samples.stream().filter(s -> s.tracker().equals("T-1")).count()).isEqualTo(6 * 325);
    assertThat(port.trackers().size()).isLessThanOrEqualTo(256);
    assertThat(port.counts().of(Kind.BAD_ID)).isGreaterThan(500);
  }

  @Test
  void inventedIdsTakeThePlacesOfNewOnesOnly() {
    for (int i = 0; i < 300; i++) {
      line(port, "X" + i);
      line(port, "X" + i);
    }
    assertThat(port.trackers()).hasSize(256);
    samples.clear();
    heard.clear();
    line(port, "SLOT");
    line(port, "OLD");
    assertThat(samples).extracting(Sample::tracker).containsExactly("SLOT", "OLD");
    assertThat(heard).hasSize(2);
  }

  @Test
  void theSameHoldsForThePlacesOfAllSourcesTogether() {
    List<SourceReader> sources = new ArrayList<>();
    for (int s = 0; s < 17; s++) {
      SourceReader source = source("sender " + s);
      sources.add(source);
      for (int i = 0; i < 256; i++) {
        line(source, "X" + s + "-" + i);
        line(source, "X" + s + "-" + i);
      }
    }
    assertThat(sources.get(16).trackers()).isEmpty();
    samples.clear();
    line(sources.get(16), "SLOT");
    line(sources.get(16), "OLD");
    assertThat(samples).extracting(Sample::tracker).containsExactly("SLOT", "OLD");
  }

  @Test
  void manyIdsThatWereStoredBeforeShutNoSlotsTrackerOutAndTheirHeatIsHeard() {
    for (int i = 0; i < 1100; i++) {
      line(port, "OLD" + i);
    }
    assertThat(port.trackers()).hasSize(1024);
    assertThat(heard).hasSize(1100);
    line(port, "SLOT");
    assertThat(port.trackers()).contains("SLOT");
    assertThat(port.counts().rejected().get(Kind.BAD_ID).reason())
        .isEqualTo("more than 1024 different ids on one source");
  }

  @Test
  void pathsOfDotsAreNoIds() {
    line(port, ".");
    line(port, "..");
    line(port, "...");
    assertThat(port.counts().of(Kind.BAD_ID)).isEqualTo(2);
    assertThat(port.counts().rejected().get(Kind.BAD_ID).reason())
        .contains("but not \".\" or \"..\"");
  }
}

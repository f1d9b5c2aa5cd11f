package soakbench.ingest.source;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import soakbench.ingest.source.SourceStatus.Heard;
import soakbench.ingest.source.SourceStatus.Newest;
import soakbench.ingest.source.SourceStatus.Way;
import soakbench.lines.LineCounts;
import soakbench.lines.LineCounts.Rejected;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

class SourceTroubleTest {
  private static final long NOW_US = 100_000_000;
  private static final LineCounts GOOD = new LineCounts(100, 95, 0, rejected(5), NOW_US, 0);

  private static Map<Rejection.Kind, Rejected> rejected(long count) {
    return Map.of(Rejection.Kind.CHATTER, new Rejected(count, "no data in it", "boot ok"));
  }

  private static SourceStatus serial(boolean open, String reason, LineCounts counts, long atUs) {
    return source(SourceKind.SERIAL, "A1", open, reason, counts, atUs);
  }

  private static SourceStatus source(
      SourceKind kind, String slot, boolean open, String reason, LineCounts counts, long atUs) {
    Heard heard = new Heard(counts, new Newest("json", "", atUs), List.of(), List.of(), 0, 0);
    return new SourceStatus(
        slot, new Way(kind, "/dev/any", 115_200), open, reason, List.of(), "", heard);
  }

  private static String what(SourceStatus source) {
    return SourceTrouble.of(source, NOW_US).map(SourceTrouble::what).orElse(null);
  }

  @Test
  void whatTalksAndIsReadHasNone() {
    assertThat(what(serial(true, "", GOOD, NOW_US))).isNull();
  }

  @Test
  void aPortThatIsNotOpenSaysWhyUnlessNothingIsMeantToBeThere() {
    assertThat(what(serial(false, "port x is busy", LineCounts.NONE, Reading.NO_TIME)))
        .isEqualTo("port x is busy");
    assertThat(what(serial(false, "", LineCounts.NONE, Reading.NO_TIME)))
        .isEqualTo("it is not open");
    assertThat(what(source(SourceKind.SERIAL, "", false, "", LineCounts.NONE, Reading.NO_TIME)))
        .as("whatever comes, and nothing has")
        .isNull();
    assertThat(what(source(SourceKind.UDP, "", false, "taken", LineCounts.NONE, Reading.NO_TIME)))
        .isEqualTo("taken");
  }

  @Test
  void aSerialPortThatSaysNothingForTenSecondsIsSilentAndSaysWhatToTry() {
    assertThat(what(serial(true, "", GOOD, NOW_US - 10_000_000))).isNull();
    assertThat(what(serial(true, "", GOOD, NOW_US - 41_000_000)))
        .isEqualTo("nothing has come for 41 s");
    SourceStatus never = serial(true, "", LineCounts.NONE, Reading.NO_TIME);
    assertThat(what(never)).isEqualTo("nothing has come of it yet");
    assertThat(SourceTrouble.of(never, NOW_US).orElseThrow().toTry())
        .isEqualTo(SourceTrouble.WHERE_SILENT);
    assertThat(what(source(SourceKind.UDP, "", true, "", LineCounts.NONE, Reading.NO_TIME)))
        .as("who listens to a network waits for whoever comes")
        .isNull();
  }

  @Test
  void linesOfWhichMoreGiveNothingThanAReadingAreGarbage() {
    LineCounts half = new LineCounts(100, 50, 0, rejected(50), NOW_US, 0);
    LineCounts most = new LineCounts(100, 49, 0, rejected(51), NOW_US, 0);
    assertThat(what(serial(true, "", half, NOW_US))).isNull();
    assertThat(what(serial(true, "", most, NOW_US)))
        .isEqualTo("51 of 100 lines can't be read: no data in it");
    assertThat(what(serial(true, "two trackers of one id", most, NOW_US)))
        .as("what is known better goes first")
        .isEqualTo("two trackers of one id");
  }
}

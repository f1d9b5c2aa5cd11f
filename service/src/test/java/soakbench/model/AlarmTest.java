package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import soakbench.model.Alarm.Kind;
import soakbench.model.Alarm.Severity;

class AlarmTest {
  @Test
  void threeKindsAreAboutHeat() {
    Set<Kind> heat = Arrays.stream(Kind.values()).filter(Kind::heat).collect(Collectors.toSet());
    assertThat(heat).isEqualTo(EnumSet.of(Kind.HOT, Kind.FAST_RISE, Kind.HEADING_HOT));
    assertThat(Kind.HEADING_HOT.word()).isEqualTo("heading_hot");
    assertThat(State.UNDECIDED.word()).isEqualTo("undecided");
  }

  @Test
  void aCauseIsAboutATrackerARackOrNeither() {
    AlarmCause silent = AlarmCause.plain(Kind.SILENT, Severity.WARNING, "T", "gone", "look");
    assertThat(silent.tracker()).isEqualTo("T");
    assertThat(silent.rack()).isNull();
    assertThat(silent.value()).isNull();
    AlarmCause rack = AlarmCause.ofRack(Kind.RACK_SILENT, Severity.SEVERE, "", "gone", "look");
    assertThat(rack.tracker()).isNull();
    assertThat(rack.rack()).isEmpty();
    AlarmCause hot =
        new AlarmCause(Kind.HOT, Severity.SEVERE, "T", 46.0, 45.0, "degC", "hot", "uncover");
    assertThat(hot.rack()).isNull();
    assertThat(hot.limit()).isEqualTo(45);
  }
}

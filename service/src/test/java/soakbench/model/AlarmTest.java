package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

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
    assertThat(silent.about().tracker()).isEqualTo("T");
    assertThat(silent.about().rack()).isNull();
    assertThat(silent.found()).isNull();
    AlarmCause rack = AlarmCause.ofRack(Kind.RACK_SILENT, Severity.SEVERE, "", "gone", "look");
    assertThat(rack.about().tracker()).isNull();
    assertThat(rack.about().rack()).isEmpty();
    AlarmCause stopped =
        AlarmCause.plain(Kind.READING_STOPPED, Severity.SEVERE, null, "stopped", "look");
    assertThat(stopped.about()).isEqualTo(new AlarmCause.About(null, null));
  }
}

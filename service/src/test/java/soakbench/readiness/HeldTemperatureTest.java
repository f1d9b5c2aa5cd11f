package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HeldTemperatureTest {
  private final HeldTemperature held = new HeldTemperature();

  /** How often it is lost or found within an hour, looked at each second. */
  private int changes(double everyS) {
    int changes = 0;
    boolean lost = false;
    double next = 0;
    for (int s = 0; s < 3600; s++) {
      if (s >= next) {
        held.measured(s);
        next += everyS;
      }
      changes += held.lost(s) == lost ? 0 : 1;
      lost = held.lost(s);
    }
    return changes;
  }

  @ParameterizedTest
  @CsvSource({"1, 0", "15, 0", "30, 0", "30.5, 0", "32, 1", "60, 1", "600, 1"})
  void aThermometerThatIsReadTooSeldomIsLostOnceAndForGood(double everyS, int changes) {
    assertThat(changes(everyS)).isEqualTo(changes);
  }

  @Test
  void onceLostItIsFoundByThreeReadingsInARow() {
    for (int s = 0; s < 60; s++) {
      held.measured(s);
    }
    assertThat(held.lost(90)).isFalse();
    assertThat(held.lost(90.5)).isTrue();
    assertThat(held.reason(100)).isEqualTo("no temperature for 41 s");
    held.measured(100);
    assertThat(held.lost(100)).as("seconds before were usual").isFalse();
  }

  @Test
  void theReasonSaysHowOftenItCame() {
    assertThat(held.lost(5)).isTrue();
    assertThat(changes(60)).isEqualTo(1);
    assertThat(held.reason(3600))
        .isEqualTo("its temperature comes only every 60 s; one every 30 s or sooner is needed");
  }
}

package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.live.StoreException;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;

/** What the roster says of trackers while it can't be read. */
class TrackerNamesTest {
  private static final Tracker OFFSET =
      new Tracker(
          "T-1", "Heron", "", "", "", "", "", Power.BATTERY, Rates.RAW, -0.5, "reads too much");

  private boolean away = true;
  private final TrackerNames names =
      new TrackerNames(
          () -> {
            if (away) {
              throw new StoreException("away", null, true);
            }
            return List.of(OFFSET);
          });

  @Test
  void nothingIsStoredWithoutTheOffsetThatARosterNotReadYetMayHold() {
    assertThatThrownBy(() -> names.temperatureOffsetCOf("T-1"))
        .isInstanceOfSatisfying(StoreException.class, e -> assertThat(e.transientFault()).isTrue());
    away = false;
    assertThat(names.temperatureOffsetCOf("T-1")).isEqualTo(-0.5);
    away = true;
    names.forget();
    assertThat(names.temperatureOffsetCOf("T-1")).as("as it was last read").isEqualTo(-0.5);
    assertThat(names.temperatureOffsetCOf("T-2")).isZero();
  }

  @Test
  void whatWasTriedBeforeTheStoreWasOpenCountsForNothing() {
    assertThat(names.of("T-1")).isEqualTo("T-1");
    assertThatThrownBy(names::readFirst).isInstanceOf(StoreException.class);
    assertThat(names.of("T-1")).isEqualTo("T-1");
    away = false;
    names.readFirst();
    assertThat(names.of("T-1")).isEqualTo("Heron");
  }
}

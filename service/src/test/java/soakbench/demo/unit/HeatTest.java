package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class HeatTest {
  private static final Heating HEATING = Heating.steady(21, 31, 2, 25, 800);

  @Test
  void twoNodesFollowTheirClosedForm() {
    Heat heat = new Heat(HEATING, Events.NONE);
    double slowC = (21 - (31 - 2)) * 800.0 / (800 - 25);
    double fastC = 21 - 31 - slowC;
    for (int s = 0; s <= 3600; s++) {
      double slow = slowC * Math.exp(-s / 800.0);
      double fast = fastC * Math.exp(-s / 25.0);
      assertThat(heat.chipC()).isCloseTo(31 + slow + fast, within(1e-9));
      assertThat(heat.rateCPerS()).isCloseTo(-slow / 800 - fast / 25, within(1e-9));
      heat.step();
    }
  }

  @Test
  void anOpenLidLeadsToACoolerPlateauAndBack() {
    Events events =
        new Events(List.of(), List.of(new Lid(10_000, 20_000, 4)), List.of(), List.of());
    Heat heat = new Heat(HEATING, events);
    go(heat, 10_000);
    assertThat(heat.chipC()).isCloseTo(31, within(0.001));
    go(heat, 10_000);
    assertThat(heat.chipC()).isCloseTo(27, within(0.001));
    go(heat, 10_000);
    assertThat(heat.chipC()).isCloseTo(31, within(0.001));
  }

  @Test
  void aBareBoardCoolsTheChipInHalfAMinuteAndTheBodyNotAtAll() {
    Events events =
        new Events(List.of(), List.of(new Lid(10_000, 10_300, 0, 2)), List.of(), List.of());
    Heat heat = new Heat(HEATING, events);
    go(heat, 10_000);
    double before = heat.chipC();
    for (int s = 1; s <= 300; s++) {
      go(heat, 1);
      // Two stages in a row: the board's face (12 s), then the chip (25 s).
      double left = (25 * Math.exp(-s / 25.0) - 12 * Math.exp(-s / 12.0)) / (25 - 12);
      assertThat(before - heat.chipC()).as("after %s s", s).isCloseTo(2 * (1 - left), within(0.05));
    }
    go(heat, 300);
    assertThat(heat.chipC()).isCloseTo(before, within(0.001));
  }

  @Test
  void aHandAddsItsWarmthOnce() {
    Motion motion = new Motion(5000.4, 5009.7, Motion.Kind.BURST, new double[] {1, 0, 0}, 0, 0.12);
    Heat touched = new Heat(HEATING, new Events(List.of(motion), List.of(), List.of(), List.of()));
    Heat untouched = new Heat(HEATING, Events.NONE);
    go(touched, 5010);
    go(untouched, 5010);
    assertThat(touched.chipC() - untouched.chipC()).isBetween(0.118, 0.1201);
  }

  @Test
  void aRoomsHeatingSwingsAboutItsMean() {
    Heating cycling = HEATING.cycling(0.5, 1000);
    double sum = 0;
    double high = -1;
    double low = 1;
    for (int s = 0; s < 1000; s++) {
      double room = cycling.roomC(s + 0.5);
      sum += room;
      high = Math.max(high, room);
      low = Math.min(low, room);
    }
    assertThat(sum / 1000).isCloseTo(0, within(1e-6));
    assertThat(high).isCloseTo(0.5, within(0.002));
    assertThat(low).isCloseTo(-0.5, within(0.002));
  }

  @Test
  void aChipSlowerThanItsBodyIsRefused() {
    assertThatThrownBy(() -> Heating.steady(20, 30, 1, 900, 800))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("900");
  }

  private static void go(Heat heat, int seconds) {
    for (int s = 0; s < seconds; s++) {
      heat.step();
    }
  }
}

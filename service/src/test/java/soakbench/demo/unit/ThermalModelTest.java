package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class ThermalModelTest {
  private static final Heating HEATING = Heating.steady(21, 31, 2, 25, 800);

  @Test
  void twoNodesFollowTheirClosedForm() {
    ThermalModel heat = new ThermalModel(HEATING, Events.NONE);
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
        new Events(List.of(), List.of(new Uncovering(10_000, 20_000, 4)), List.of(), List.of());
    ThermalModel heat = new ThermalModel(HEATING, events);
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
        new Events(List.of(), List.of(new Uncovering(10_000, 10_300, 0, 2)), List.of(), List.of());
    ThermalModel heat = new ThermalModel(HEATING, events);
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
    ThermalModel touched =
        new ThermalModel(HEATING, new Events(List.of(motion), List.of(), List.of(), List.of()));
    ThermalModel untouched = new ThermalModel(HEATING, Events.NONE);
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
      double room = cycling.room().atC(s + 0.5);
      sum += room;
      high = Math.max(high, room);
      low = Math.min(low, room);
    }
    assertThat(sum / 1000).isCloseTo(0, within(1e-6));
    assertThat(high).isCloseTo(0.5, within(0.002));
    assertThat(low).isCloseTo(-0.5, within(0.002));
  }

  /** A third of a sine's period is on the way down; a saw tooth is at its top after 0.4. */
  @Test
  void aRoomIsSomewhereInItsCycleAsTheRunBegins() {
    Room sine = new Room(0.5, 900, 1 / 3.0, Room.Shape.SINE, 0);
    assertThat(sine.atC(0)).isCloseTo(0.5 * Math.sin(2 * Math.PI / 3), within(1e-12));
    assertThat(sine.atC(600)).isCloseTo(0, within(1e-12));
    Room saw = new Room(0.5, 1000, 0.3, Room.Shape.SAW_TOOTH, 0.001);
    assertThat(saw.atC(100)).isCloseTo(0.5 + 0.1, within(1e-12));
    assertThat(saw.atC(700)).as("coldest, and 700 s of drift").isCloseTo(0.2, within(1e-12));
  }

  /**
   * The amplitude of a body behind a swing of angular frequency w is 1 / sqrt(1 + (w tau)^2); of
   * body and chip in a row the product.
   */
  @Test
  void aBodyFollowsASwingAsALowPassDoes() {
    double periodS = 1200;
    Heating swinging =
        Heating.steady(31, 31, 0, 25, 800).in(new Room(0.6, periodS, 0, Room.Shape.SINE, 0));
    ThermalModel heat = new ThermalModel(swinging, Events.NONE);
    go(heat, 12_000);
    double low = 99;
    double high = 0;
    for (int s = 0; s < periodS; s++) {
      low = Math.min(low, heat.chipC());
      high = Math.max(high, heat.chipC());
      go(heat, 1);
    }
    double w = 2 * Math.PI / periodS;
    double left = 1 / Math.hypot(1, w * 800) / Math.hypot(1, w * 25);
    assertThat((high - low) / 2).isCloseTo(0.6 * left, within(0.001));
  }

  /** Body 200 s behind 65 parts air and 35 of a mass that follows the air with 2500 s. */
  @Test
  void aSlowMassAboutTheBodyHoldsItBack() {
    ThermalModel heat =
        new ThermalModel(Heating.steady(20, 30, 0, 1, 200).withSlowMass(2500), Events.NONE);
    go(heat, 3000);
    double quick = Math.exp(-3000 / 200.0);
    double slow = Math.exp(-3000 / 2500.0);
    double share = Heating.SLOW_SHARE * 2500 / (2500 - 200);
    double left = (1 - share) * quick + share * slow;
    assertThat(heat.chipC()).isCloseTo(30 - 10 * left, within(0.01));
  }

  @Test
  void aCopyGoesOnAsTheOriginal() {
    Room room = new Room(0.6, 700, 0.2, Room.Shape.SAW_TOOTH, 0.0002);
    ThermalModel heat = new ThermalModel(HEATING.in(room).withSlowMass(2500), Events.NONE);
    go(heat, 500);
    ThermalModel copy = heat.copy();
    go(heat, 180);
    for (int s = 0; s < 180; s++) {
      copy.step(0, 0);
    }
    assertThat(copy.chipC()).isEqualTo(heat.chipC());
  }

  @Test
  void aChipSlowerThanItsBodyIsRefused() {
    assertThatThrownBy(() -> Heating.steady(20, 30, 1, 900, 800))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("900");
  }

  @Test
  void aCycleWithoutLengthIsRefused() {
    assertThatThrownBy(() -> HEATING.cycling(0.5, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0.0 s");
  }

  private static void go(ThermalModel heat, int seconds) {
    for (int s = 0; s < seconds; s++) {
      heat.step();
    }
  }
}

package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Newton's law of cooling, T(t) = T_s + (T_0 - T_s) exp(-t / tau), of a chip that follows its body
 * at once (Incropera and others, Fundamentals of Heat and Mass Transfer, section 5.1: lumped
 * capacitance; from memory).
 */
class CoolingTest {
  private static final double AT_ONCE_S = 1e-6;

  private static ThermalModel heat(
      double startC, double plateauC, double selfHeatC, Events events) {
    return new ThermalModel(Heating.steady(startC, plateauC, selfHeatC, AT_ONCE_S, 700), events);
  }

  private static void go(ThermalModel heat, int seconds) {
    for (int s = 0; s < seconds; s++) {
      heat.step();
    }
  }

  @ParameterizedTest
  @CsvSource({"21, 31", "60, 20", "25, 25"})
  void bodiesNearTheirSurroundingsByTheirTimeConstant(double startC, double plateauC) {
    ThermalModel heat = heat(startC, plateauC, 0, Events.NONE);
    for (int s = 1; s <= 2100; s++) {
      heat.step();
      double expectedC = plateauC + (startC - plateauC) * Math.exp(-s / 700.0);
      assertThat(heat.chipC()).isCloseTo(expectedC, within(1e-6));
    }
    assertThat(heat.second()).isEqualTo(2100);
  }

  /** 700 s ln 2 are 485.2 s. */
  @Test
  void halfTheWayTakesTheTimeConstantTimesTheLogarithmOfTwo() {
    ThermalModel heat = heat(20, 40, 0, Events.NONE);
    go(heat, 485);
    assertThat(heat.chipC()).isBetween(29.99, 30.0);
    go(heat, 1);
    assertThat(heat.chipC()).isBetween(30.0, 30.02);
  }

  @Test
  void withoutPowerItsOwnHeatIsGoneAtOnceAndThenComesBack() {
    Span off = new Span(9_000, 9_100);
    ThermalModel heat = heat(31, 31, 2, new Events(List.of(), List.of(), List.of(off), List.of()));
    go(heat, 9_000);
    assertThat(heat.chipC()).isCloseTo(31, within(1e-4));
    go(heat, 50);
    assertThat(heat.chipC()).isCloseTo(29, within(1e-4));
    go(heat, 51);
    assertThat(heat.chipC()).isCloseTo(31, within(1e-4));
  }

  @Test
  void aCopyGoesItsOwnWayFromTheSameMoment() {
    ThermalModel heat = heat(20, 40, 0, Events.NONE);
    go(heat, 300);
    ThermalModel copy = heat.copy();
    go(heat, 100);
    for (int s = 0; s < 100; s++) {
      copy.step(0, 0);
    }
    assertThat(copy.chipC()).isCloseTo(heat.chipC(), within(1e-12));
    assertThat(copy.second()).isEqualTo(400);
    copy.step(5, 0);
    heat.step();
    assertThat(copy.chipC()).isLessThan(heat.chipC());
  }

  /** In the first 40 % of a cycle the room warms from the lowest to the highest, then it cools. */
  @ParameterizedTest
  @CsvSource({
    "0, -0.5",
    "100, -0.25",
    "200, 0",
    "400, 0.5",
    "700, 0",
    "850, -0.25",
    "1000, -0.5",
    "2400, 0.5"
  })
  void aRoomsHeatingIsASawTooth(double timeS, double expectedC) {
    Heating room = Heating.steady(20, 30, 0, 1, 700).cycling(0.5, 1000);
    assertThat(room.room().atC(timeS)).isCloseTo(expectedC, within(1e-9));
  }

  @Test
  void aSteadyRoomStaysAsItIs() {
    assertThat(Heating.steady(20, 30, 0, 1, 700).room().atC(123)).isZero();
  }
}

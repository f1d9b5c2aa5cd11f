package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.lots.AxisFigures;
import soakbench.lots.SoakFigures;
import soakbench.lots.TrackerCurves;
import soakbench.lots.TrackerFigures;
import soakbench.lots.UnitSoak;
import soakbench.model.Estimate;
import soakbench.model.Soak;

/** Figures that an older release stored are answered until they are derived anew. */
class OlderFiguresTest {
  private static final String UNKNOWN =
      "{\"value\":null,\"se\":null,\"low\":null,\"high\":null,\"reason\":\"short\"}";
  private static final String SLOPE =
      "{\"value\":0.02,\"se\":0.001,\"low\":0.018,\"high\":0.022,\"reason\":null}";

  private static String axis(String name) {
    return ("{\"axis\":\"%s\",\"biasDps\":%s,\"tempcoDpsPerC\":%s,\"spanDps\":%s,"
            + "\"settlingDps\":%s,\"residualSdDps\":0.002,\"angleRandomWalkDegPerSqrtH\":%s,"
            + "\"biasInstabilityDegPerH\":%s,\"rateRandomWalkDpsPerSqrtS\":%s,"
            + "\"coefficients\":[0.3,0.02],\"covariance\":[[4e-6,0],[0,1e-6]]}")
        .formatted(name, SLOPE, SLOPE, SLOPE, UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN);
  }

  private static String row() {
    return ("{\"operatingC\":30.0,\"lowC\":24.0,\"highC\":30.5,\"useC\":31.0,\"plateauC\":%s,"
            + "\"timeConstantS\":%s,\"sampleRateHz\":10.0,\"axes\":[%s,%s,%s],\"degPerMin\":%s,"
            + "\"minutesTo5Deg\":%s,\"restingG\":null}")
        .formatted(UNKNOWN, UNKNOWN, axis("x"), axis("y"), axis("z"), UNKNOWN, UNKNOWN);
  }

  @Test
  void aRowWithoutThePowerLeftOutGivesTheSameCurveAndNothingThatRepeats() {
    DirtySoaks dirty = new DirtySoaks();
    SoakFigures read = DerivedFigures.column(dirty).read("KITE-1@1", row()).orElseThrow();
    assertThat(dirty.unreadable()).isEmpty();
    assertThat(read.timeConstantPriorOnly()).isFalse();
    AxisFigures x = read.axes().get(0);
    assertThat(x.coefficients()).containsExactly(0.3, 0.02, 0);
    assertThat(x.covariance()).hasDimensions(3, 3);
    assertThat(x.limitsSe()).isCloseTo(2, within(1e-12));
    Soak soak = new Soak("KITE-1@1", "KITE-1", 0, 1, 1, Soak.End.SILENCE);
    TrackerFigures at28 = TrackerCurves.of(List.of(new UnitSoak(soak, read, null))).at(28);
    Estimate bias = at28.axes().get(0).bias().biasDps();
    assertThat(bias.value()).isCloseTo(0.26, within(1e-12));
    assertThat(bias.se()).isCloseTo(Math.sqrt(4e-6 + 4e-6), within(1e-12));
  }

  @Test
  void aRowThatIsNoneOfThemStaysUnreadable() {
    DirtySoaks dirty = new DirtySoaks();
    assertThat(DerivedFigures.column(dirty).read("KITE-1@1", "7")).isEmpty();
    assertThat(DerivedFigures.column(dirty).read("KITE-1@1", "{\"axes\":[7]}")).isEmpty();
    assertThat(dirty.unreadable()).containsExactly("KITE-1@1");
  }
}

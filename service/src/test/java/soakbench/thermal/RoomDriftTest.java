package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Estimate;
import soakbench.numerics.ExponentialModel;

/** A body whose surroundings are calm for an hour and then go on evenly: Newton's closed form. */
class RoomDriftTest {
  private static final double TAU_S = 600;
  private static final int CALM_S = 3600;
  private static final int ALL_S = 7200;
  private static final double EVERYWHERE = Double.POSITIVE_INFINITY;

  private static double celsius(double tS, double cPerH) {
    double sinceS = Math.max(0, tS - CALM_S);
    double behindS = TAU_S * -Math.expm1(-sinceS / TAU_S);
    return 30 - 10 * Math.exp(-tS / TAU_S) + cPerH / 3600 * (sinceS - behindS);
  }

  private static WarmUpRows rows(double cPerH) {
    SplittableRandom random = new SplittableRandom(3);
    double[] timeS = IntStream.range(0, ALL_S).mapToDouble(s -> s + 0.5).toArray();
    double[] celsius = new double[ALL_S];
    double[] weight = new double[ALL_S];
    for (int s = 0; s < ALL_S; s++) {
      celsius[s] = celsius(timeS[s], cPerH) + 0.01 * random.nextGaussian();
      weight[s] = 1;
    }
    return WarmUpRows.of(new Temperatures(timeS, celsius, weight), 0, EVERYWHERE);
  }

  private static RoomDrift drift(double cPerH) {
    WarmUpRows all = rows(cPerH);
    WarmUpRows calm = all.between(0, CALM_S);
    return RoomDrift.of(
        all, ExponentialModel.of(calm.timeS(), calm.temperatureC(), calm.weight(), 1));
  }

  @ParameterizedTest
  @ValueSource(doubles = {-1, -0.3, 0.3, 1, 3})
  void theLevelNowIsFoundThoughTheBodyLiesBehindIt(double cPerH) {
    RoomDrift drift = drift(cPerH);
    assertThat(drift.byC())
        .isCloseTo(cPerH, within(Math.max(3 * drift.seC(), 0.01 + 0.01 * Math.abs(cPerH))));
    assertThat(drift.seC()).isLessThan(0.1 * Math.abs(cPerH));
    assertThat(drift.onC()).as("ten minutes more").isCloseTo(Math.abs(cPerH) / 6, within(0.03));
    Estimate told = drift.widened(Estimate.of(30, 0.01, 29.98, 30.02), 0);
    assertThat(told.value()).isCloseTo(30 + cPerH, within(0.03));
    assertThat(30 + cPerH).isBetween(told.low(), told.high());
    assertThat(told.low()).isLessThanOrEqualTo(29.98);
    assertThat(told.high()).isGreaterThanOrEqualTo(30.02);
  }

  @Test
  void aPlateauThatHeldTheLevelStaysAndOnlyItsLimitsWiden() {
    Estimate wide = drift(0.3).widened(Estimate.of(30, 0.3, 29.4, 30.6), 0);
    assertThat(wide.value()).isEqualTo(30);
    assertThat(wide.low()).isEqualTo(29.4);
  }

  @Test
  void calmSurroundingsAndAPlateauThatIsNotKnownStayAsTheyAre() {
    Estimate plateau = Estimate.of(30, 0.01, 29.98, 30.02);
    assertThat(drift(0).widened(plateau, 0)).isSameAs(plateau);
    assertThat(drift(1).widened(plateau, 1)).as("hidden by the step").isSameAs(plateau);
    Estimate unknown = Estimate.unknown("nothing levels");
    assertThat(drift(1).widened(unknown, 0)).isSameAs(unknown);
  }
}

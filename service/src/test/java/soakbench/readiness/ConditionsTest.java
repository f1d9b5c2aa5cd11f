package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.live.SomeLimits;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.readiness.estimator.TostInterval;

/** Each condition on both sides of its limit. */
class ConditionsTest {
  private final Evidences e = new Evidences();
  private final Conditions conditions = new Conditions(Limits.DEFAULT);

  private Condition condition(String name, double dwellS) {
    e.heldS = dwellS;
    return conditions.list(e.make()).stream()
        .filter(c -> c.name().equals(name))
        .findFirst()
        .orElseThrow();
  }

  private Condition condition(String name) {
    return condition(name, 0);
  }

  @Test
  void allEightAreListedInOrder() {
    e.heldS = 60;
    assertThat(conditions.list(e.make()))
        .extracting(Condition::name)
        .containsExactly(
            "heard",
            "still",
            "operating_band",
            "near_use",
            "temperature_settled",
            "shift",
            "dwell",
            "not_hot");
    assertThat(conditions.list(e.make())).allMatch(c -> c.met() && c.reason() == null);
  }

  @ParameterizedTest
  @CsvSource({"27.99, false", "28, true", "34, true", "34.01, false"})
  void theBandIncludesItsEdges(double celsius, boolean met) {
    e.temperatureC = celsius;
    assertThat(condition("operating_band").met()).isEqualTo(met);
  }

  @ParameterizedTest
  @CsvSource({"27.84, false", "27.86, true", "34.14, true", "34.16, false"})
  void aMarginLiesOutsideTheBand(double celsius, boolean inside) {
    assertThat(conditions.inBand(celsius, Limits.DEFAULT.bandMarginC())).isEqualTo(inside);
  }

  @ParameterizedTest
  @CsvSource({
    "0.06, 0.039, true",
    "0.06, 0.041, ",
    "-0.06, 0.039, true",
    "-0.06, 0.041, ",
    "0.15, 0.049, false",
    "-0.15, 0.049, false"
  })
  void theRateIsSettledShownToDriftOrUndecided(double value, double half, Boolean met) {
    e.rate = TostInterval.about(value, half);
    Condition c = condition("temperature_settled");
    assertThat(c.met()).isEqualTo(met);
    assertThat(c.found().low()).isEqualTo(value - half);
    assertThat(conditions.driftShown(e.make())).isEqualTo(Boolean.FALSE.equals(met));
  }

  @ParameterizedTest
  @CsvSource({
    "0.004, 0.0059, true",
    "0.004, 0.0061, ",
    "-0.004, 0.0061, ",
    "0.015, 0.0049, false",
    "-0.015, 0.0049, false"
  })
  void theShiftIsWithinShownOutsideOrUndecided(double value, double half, Boolean met) {
    e.shift = Evidences.shift(value, half);
    assertThat(condition("shift").met()).isEqualTo(met);
    assertThat(conditions.driftShown(e.make())).isEqualTo(Boolean.FALSE.equals(met));
  }

  @Test
  void oneAxisIsEnoughToRefuse() {
    e.shift[2] = TostInterval.about(0.02, 0.001);
    Condition c = condition("shift");
    assertThat(c.met()).isFalse();
    assertThat(c.found().value()).isEqualTo(0.02);
    assertThat(c.reason()).isEqualTo("z axis: 0.020 of 0.010 °/s");
  }

  @ParameterizedTest
  @CsvSource({"1440, true", "1440.5, false"})
  void stillMeansAMinuteWithoutMotion(double movedS, boolean met) {
    e.movedS = movedS;
    assertThat(condition("still").met()).isEqualTo(met);
  }

  @ParameterizedTest
  @CsvSource({"5, true", "5.1, false"})
  void aGapOfMoreThanFiveSecondsIsNotHeard(double gapS, boolean met) {
    e.gapS = gapS;
    assertThat(condition("heard").met()).isEqualTo(met);
  }

  @ParameterizedTest
  @CsvSource({"59, false", "60, true"})
  void theDwellIsAMinute(double dwellS, boolean met) {
    assertThat(condition("dwell", dwellS).met()).isEqualTo(met);
  }

  @Test
  void nearUseOnlyBlocksWhereALimitIsSet() {
    e.nearUseDegPerMin = 7;
    assertThat(condition("near_use").met()).isTrue();
    Limits strict = SomeLimits.with(LimitKey.NEAR_USE_LIMIT_DEG_PER_MIN, 0.5);
    assertThat(nearUse(strict).met()).isFalse();
    e.nearUseDegPerMin = 0.5;
    assertThat(nearUse(strict).met()).isTrue();
  }

  private Condition nearUse(Limits limits) {
    return new Conditions(limits).list(e.make()).get(3);
  }

  @Test
  void whatIsNotKnownIsNeitherMetNorUnmet() {
    e.rate = null;
    e.shift = null;
    e.models = null;
    e.temperatureC = Double.NaN;
    e.nearUseDegPerMin = Double.NaN;
    e.rates = false;
    List<Condition> list = conditions.list(e.make());
    assertThat(list.stream().filter(c -> c.met() == null).map(Condition::name))
        .containsExactly(
            "still", "operating_band", "near_use", "temperature_settled", "shift", "not_hot");
    assertThat(list.stream().filter(c -> c.met() == null)).allMatch(c -> c.reason() != null);
    assertThat(conditions.driftShown(e.make())).isFalse();
  }
}

package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class LimitsDraftTest {
  private static LimitsDraft draft() {
    return new LimitsDraft(Limits.DEFAULT);
  }

  private static LimitsDraft with(String key, Object value) {
    LimitsDraft draft = draft();
    draft.set(key, value);
    return draft;
  }

  @Test
  void theDefaultsAreWithoutFault() {
    assertThat(draft().problems()).isEmpty();
    assertThat(draft().limits()).isEqualTo(Limits.DEFAULT);
  }

  @ParameterizedTest
  @EnumSource(LimitKey.class)
  void everyLimitIsTakenUpToItsEndsAndNotBeyond(LimitKey key) {
    for (double end : new double[] {key.least(), key.most()}) {
      LimitsDraft at = with(key.key(), end);
      assertThat(at.problems()).noneMatch(p -> p.reason().contains("must be a number"));
      double beyond = end == key.least() ? Math.nextDown(end) : Math.nextUp(end);
      assertThat(with(key.key(), beyond).problems())
          .singleElement()
          .satisfies(
              p -> {
                assertThat(p.key()).isEqualTo(key.key());
                assertThat(p.reason()).contains("must be a number from").contains(key.unit());
              });
    }
  }

  @ParameterizedTest
  @EnumSource(LimitKey.class)
  void whatIsNoNumberIsRefused(LimitKey key) {
    Object[] wrong = {"\"12\"", "true", "[]", Double.NaN, Double.POSITIVE_INFINITY, 1e300};
    for (Object value : wrong) {
      assertThat(with(key.key(), value).problems()).as("%s", value).hasSize(1);
    }
    assertThat(with(key.key(), null).problems().isEmpty()).isEqualTo(key.nullable());
  }

  @ParameterizedTest
  @EnumSource(LimitKey.class)
  void aValueThatIsSetIsTheOneThatIsRead(LimitKey key) {
    // Halfway to an end, so that the band stays in order.
    Double now = key.of(Limits.DEFAULT);
    double value = now == null ? 2.5 : now + (now < key.most() / 2 ? 0.25 : -0.25) * (now / 10);
    assertThat(key.of(with(key.key(), value).limits())).isEqualTo(value);
    assertThat(LimitDifference.between(Limits.DEFAULT, with(key.key(), value).limits()))
        .containsExactly(new LimitDifference(key.key(), key.unit(), now, value));
  }

  @Test
  void theBandMayNotStandOnItsHead() {
    LimitsDraft draft = with("band_low_c", 35);
    assertThat(draft.problems())
        .containsExactly(
            new LimitsDraft.Problem(
                "band_low_c",
                "band_low_c 35 degC must be below band_high_c 34 degC; set the one or the other"));
    assertThatThrownBy(draft::limits).isInstanceOf(IllegalStateException.class);
    assertThat(with("band_low_c", 34).problems()).hasSize(1);
    assertThat(with("band_high_c", 28).problems()).hasSize(1);
  }

  @Test
  void theUseTemperatureLiesInTheBandItsEndsIncluded() {
    assertThat(with("use_temperature_c", 28).problems()).isEmpty();
    assertThat(with("use_temperature_c", 34).problems()).isEmpty();
    assertThat(with("use_temperature_c", 34.01).problems())
        .containsExactly(
            new LimitsDraft.Problem(
                "use_temperature_c",
                "use_temperature_c 34.01 degC is outside the band of 28 to 34 degC; set it to lie"
                    + " within, or move the band"));
    assertThat(with("band_low_c", 32).problems()).extracting("key").contains("use_temperature_c");
  }

  @Test
  void hotLiesAboveTheBand() {
    assertThat(with("hot_c", 34.5).problems()).isEmpty();
    assertThat(with("hot_c", 34).problems()).extracting("key").containsExactly("hot_c");
    assertThat(with("band_high_c", 50).problems()).extracting("key").containsExactly("hot_c");
  }

  @Test
  void aMisspeltNameIsToldWithTheNearestOne() {
    assertThat(with("band_lo_c", 29).problems())
        .containsExactly(
            new LimitsDraft.Problem(
                "band_lo_c", "there is no limit \"band_lo_c\"; did you mean \"band_low_c\"?"));
    assertThat(with("colour", 1).problems().get(0).reason()).contains("the limits are heard_with");
  }

  @Test
  void allProblemsAreToldAtOnce() {
    LimitsDraft draft = draft();
    draft.set("alpha", 0.5);
    draft.set("alfa", 0.05);
    draft.set("dwell_s", null);
    draft.set("band_low_c", 40);
    draft.set("hot_c", 34);
    assertThat(draft.problems())
        .extracting("key")
        .containsExactly("alpha", "alfa", "dwell_s", "band_low_c", "hot_c");
  }

  @Test
  void anEndlessTextIsCutWhereItIsTold() {
    String endless = "x".repeat(100_000);
    assertThat(with("alpha", endless).problems().get(0).reason()).hasSizeLessThan(200);
  }
}

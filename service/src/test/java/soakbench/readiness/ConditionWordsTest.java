package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import soakbench.model.Limits;
import soakbench.readiness.estimator.TostInterval;

/** Why a condition is not met, in words, with its value, unit and limits. */
class ConditionWordsTest {
  private final Conditions conditions = new Conditions(Limits.DEFAULT);

  private Condition of(String name, Consumer<Evidences> change) {
    Evidences e = new Evidences();
    change.accept(e);
    return conditions.list(e.make()).stream()
        .filter(c -> c.name().equals(name))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aGapIsToldWithItsLength() {
    Condition heard = of("heard", e -> e.gapS = 7.2);
    assertThat(heard)
        .isEqualTo(
            new Condition(
                "heard",
                false,
                Condition.Found.of(7.2),
                Condition.Wanted.below(5),
                "s",
                "a gap of 7 s within the last minute"));
  }

  @Test
  void stillnessSaysHowLongAgoItMovedOrWhyThatCannotBeSeen() {
    assertThat(of("still", e -> e.movedS = e.tS - 12).reason()).isEqualTo("moved 12 s ago");
    assertThat(of("still", e -> e.movedS = e.tS - 12).wanted().limitLow()).isEqualTo(60);
    assertThat(of("still", e -> e.tooSlow = true).reason()).contains("too slow to see motion");
    assertThat(of("still", e -> e.rates = false).reason()).isEqualTo("its lines carry no rates");
    assertThat(of("still", e -> e.rates = false).found().value()).isNull();
    // Never moved: still since the soak began.
    assertThat(of("still", e -> {}).found().value()).isEqualTo(1500);
  }

  @Test
  void theBandSaysOnWhichSideAndHowFar() {
    assertThat(of("operating_band", e -> e.temperatureC = 26.8).reason())
        .isEqualTo("below the band by 1.2 °C");
    assertThat(of("operating_band", e -> e.temperatureC = 34.6).reason())
        .isEqualTo("above the band by 0.6 °C");
    assertThat(of("operating_band", e -> e.temperatureC = Double.NaN).reason())
        .isEqualTo("no temperature in its lines yet");
  }

  @Test
  void theRateSaysItsDriftOrItsDoubt() {
    assertThat(of("temperature_settled", e -> e.rate = TostInterval.about(-0.31, 0.02)).reason())
        .isEqualTo("-0.31 of 0.10 °C/min");
    Condition doubt = of("temperature_settled", e -> e.rate = TostInterval.about(0.09, 0.02));
    assertThat(doubt.reason()).isEqualTo("not shown yet to be within 0.10 °C/min");
    assertThat(doubt.met()).isNull();
    assertThat(List.of(doubt.wanted().limitLow(), doubt.wanted().limitHigh()))
        .containsExactly(-0.1, 0.1);
    assertThat(of("temperature_settled", e -> e.rate = null).reason())
        .isEqualTo("less than a minute of temperatures");
  }

  @Test
  void theShiftNamesItsWorstAxis() {
    Condition shown = of("shift", e -> e.shift[1] = TostInterval.about(-0.02, 0.001));
    assertThat(shown.reason()).isEqualTo("y axis: -0.020 of 0.010 °/s");
    assertThat(shown.found().value()).isEqualTo(-0.02);
    assertThat(of("shift", e -> e.shift[2] = TostInterval.about(0.009, 0.002)).reason())
        .isEqualTo("z axis not shown yet to stay within 0.010 °/s");
    assertThat(of("shift", e -> e.shift = null).reason())
        .isEqualTo("two minutes of lying still are needed first");
  }

  @Test
  void theDwellAndHeatSayWhatTheyWaitFor() {
    assertThat(of("dwell", e -> {}).reason()).isEqualTo("all conditions must hold for 60 s");
    Condition hot = of("not_hot", e -> e.hotReason = "46.0 °C is over 45.0 °C");
    assertThat(hot.met()).isFalse();
    assertThat(hot.reason()).isEqualTo("46.0 °C is over 45.0 °C");
    assertThat(hot.wanted().limitHigh()).isEqualTo(45);
    assertThat(of("not_hot", e -> e.temperatureC = Double.NaN).reason())
        .isEqualTo("no temperature yet");
  }

  @Test
  void inSilenceOnlyHearingChanges() {
    List<Condition> before = conditions.list(new Evidences().make());
    List<Condition> after = conditions.unheard(before, 10);
    assertThat(after.get(0).met()).isFalse();
    assertThat(after.get(0).reason()).isEqualTo("nothing heard for 10 s");
    assertThat(after.subList(1, 8)).isEqualTo(before.subList(1, 8));
  }
}

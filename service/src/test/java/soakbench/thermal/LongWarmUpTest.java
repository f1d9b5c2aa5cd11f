package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Trackers that were left on for a whole day's work. */
class LongWarmUpTest {
  private static final long START_S = 1_772_352_000;
  private static final Channel[] NONE = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private static List<Bin> bins(int seconds, IntToDoubleFunction celsiusAt) {
    SplittableRandom random = new SplittableRandom(412);
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      Channel c = new Channel(10, celsiusAt.applyAsDouble(s) + 0.003 * random.nextGaussian(), 0.01);
      long us = (START_S + s) * 1_000_000;
      bins.add(
          new Bin("T-0412", START_S + s, us, us + 900_000, 0, c, NONE, NONE, 0.01, Double.NaN));
    }
    return bins;
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 4, 10})
  void hoursAtThePlateauMakeTheCurveNoLessCertain(int hours) {
    isNoLessCertain(hours);
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5, 24})
  @Tag("bench")
  void aDayAtThePlateauMakesTheCurveNoLessCertain(int hours) {
    isNoLessCertain(hours);
  }

  private static void isNoLessCertain(int hours) {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(hours * 3600, s -> 33 - 10 * Math.exp(-s / 800.0)));
    assertThat(curve.reason()).isNull();
    assertThat(curve.plateauC().low()).isBetween(32.98, 33.0);
    assertThat(curve.plateauC().high()).isBetween(33.0, 33.02);
    assertThat(curve.timeConstantsS().get(0).low()).isBetween(780.0, 800.0);
    assertThat(curve.timeConstantsS().get(0).high()).isBetween(800.0, 820.0);
    assertThat(curve.startC().value()).isCloseTo(23, Offset.offset(0.1));
  }

  @Test
  void aCurveFromABreakOnDoesNotSayWhereTheSoakBegan() {
    // Covered anew after three hours: what the model says of the start is thousands of degrees.
    WarmUpCurve curve =
        WarmUpAnalysis.of(
            bins(14_400, s -> s < 10_800 ? 25 : 33 - 8 * Math.exp(-(s - 10_800) / 600.0)));
    assertThat(curve.reason()).isNull();
    assertThat(curve.breaksUs()).isNotEmpty();
    assertThat(curve.plateauC().value()).isCloseTo(33, Offset.offset(0.1));
    assertThat(curve.startC().known()).isFalse();
    assertThat(curve.startC().reason()).contains("break");
  }
}

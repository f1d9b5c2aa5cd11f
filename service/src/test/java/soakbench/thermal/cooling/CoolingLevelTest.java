package soakbench.thermal.cooling;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class CoolingLevelTest {
  private static List<CoolingSecond> seconds(int count, IntToDoubleFunction celsius) {
    List<CoolingSecond> out = new ArrayList<>();
    for (int s = 1; s <= count; s++) {
      out.add(new CoolingSecond(s, celsius.applyAsDouble(s), null, false));
    }
    return out;
  }

  @Test
  void aLineIsCarriedOnAsTheTextbookSays() {
    // A hundred seconds, 0.001 degC/s, errors of 0.02 degC of either sign in turn.
    List<CoolingSecond> line = seconds(100, s -> 31 + 0.001 * s + (s % 2 == 0 ? 0.02 : -0.02));
    CoolingLevel level = CoolingLevel.until(line, 0, 100).orElseThrow();
    assertThat(level.count()).isEqualTo(100);
    assertThat(level.meanS()).isCloseTo(50.5, within(1e-9));
    assertThat(level.squaredS()).isCloseTo(100 * (100.0 * 100 - 1) / 12, within(1e-6));
    assertThat(level.slopeCPerS()).isCloseTo(0.001, within(2e-5));
    assertThat(level.sdC()).isCloseTo(0.02 * Math.sqrt(100 / 98.0), within(1e-4));
    assertThat(level.at(150.5)).isCloseTo(31.1505, within(0.002));
    double variance = level.sdC() * level.sdC() * (1 / 100.0 + 100.0 * 100 / level.squaredS());
    assertThat(level.variance(150.5)).isCloseTo(variance, within(1e-12));
  }

  @Test
  void aQuietThermometerIsNotBelievedBelowFourThousandthsNorBelowHalfAStep() {
    List<CoolingSecond> still = seconds(100, s -> 31);
    assertThat(CoolingLevel.until(still, 0, 100).orElseThrow().sdC()).isEqualTo(0.004);
    assertThat(CoolingLevel.until(still, 0.1, 100).orElseThrow().sdC()).isEqualTo(0.05);
  }

  @Test
  void onlyTheLastHundredStillSecondsCount() {
    List<CoolingSecond> seconds = seconds(300, s -> s <= 200 ? 99 : 31);
    assertThat(CoolingLevel.until(seconds, 0, 300).orElseThrow().meanC()).isEqualTo(31);
    for (int i = 210; i < 234; i++) {
      seconds.set(i, new CoolingSecond(i + 1, 99, null, true));
    }
    assertThat(CoolingLevel.until(seconds, 0, 300).orElseThrow().count()).isEqualTo(76);
    seconds.set(234, new CoolingSecond(235, 99, null, true));
    assertThat(CoolingLevel.until(seconds, 0, 300)).isPresent();
    seconds.set(235, new CoolingSecond(236, 99, null, true));
    assertThat(CoolingLevel.until(seconds, 0, 300)).isEmpty();
  }

  @Test
  void aCoolingKnowsItsLengthAndItsDeepestDrop() {
    Cooling cooling =
        new Cooling(600, 31, new double[] {0, 0.4, 0.9, 0.7}, new double[4], 0.01, 0.001);
    assertThat(cooling.lengthS()).isEqualTo(3);
    assertThat(cooling.deepestC()).isEqualTo(0.9);
    assertThat(new Cooling(0, 31, new double[] {0}, new double[1], 0, 0).deepestC()).isZero();
  }
}

package soakbench.drift.noise;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ReferenceFile;
import soakbench.model.Estimate;
import soakbench.numerics.Noises;
import soakbench.numerics.allan.AllanFit;
import soakbench.numerics.allan.SettledAllan.Point;

/** B, of deviations as drawn and of noise whose B went in. */
class FloorReadingTest {
  private static final double FLOOR_DPS = 30.0 / 3600;

  /** The floor over 0.664 (IEEE Std 952). */
  private static final double B_DEG_PER_H = 30 / 0.664;

  private static Noise.Axis read(AllanCurve curve) {
    return NoiseReading.of("x", curve, Optional.empty(), null, Optional.empty());
  }

  private static AllanCurve of(double[] rates) {
    return AllanCurve.of(List.of(rates), List.of(new double[rates.length]));
  }

  /** Deviations as a record of so many seconds would show them. */
  private static AllanCurve drawn(int seconds, DoubleUnaryOperator deviationDps) {
    List<Point> points = new ArrayList<>();
    int read = 0;
    for (int m = 1; 4 * m <= seconds; m *= 2) {
      points.add(new Point(m, deviationDps.applyAsDouble(m), new int[] {seconds + 1 - 2 * m}));
      read = 10 * m <= seconds ? points.size() : read;
    }
    AllanFit model = null;
    for (int round = 0; round < 3; round++) {
      model = AllanFit.of(new AllanCurve(points, read, model).readings());
    }
    return new AllanCurve(points, read, model);
  }

  /** Down to 64 s, then level: no sum of N, B and K follows the corner. */
  private static double cornered(double tauS) {
    return tauS < 64 ? FLOOR_DPS * 8 / Math.sqrt(tauS) : FLOOR_DPS;
  }

  @ParameterizedTest
  @ValueSource(ints = {8192, 10_240, 20_480, 40_960})
  void aFloorThatIsFlatFrom64To2048SecondsIsBAndNoSlowWalk(int seconds) {
    Noise.Axis axis = read(drawn(seconds, FloorReadingTest::cornered));
    Estimate b = axis.biasInstabilityDegPerH();
    assertThat(b.value()).isCloseTo(B_DEG_PER_H, Percentage.withPercentage(1));
    assertThat(B_DEG_PER_H).isBetween(b.low(), b.high());
    assertThat(axis.rateRandomWalkDpsPerSqrtS().reason()).contains("not resolved");
  }

  @Test
  void aFloorThatIsTooShortToBeToldFromAValleyIsNotResolved() {
    Noise.Axis axis = read(drawn(2048, FloorReadingTest::cornered));
    assertThat(axis.biasInstabilityDegPerH().reason()).contains("not resolved");
  }

  @ParameterizedTest
  @ValueSource(ints = {8192, 20_480, 40_960})
  void aValleyOfWhiteNoiseAndASlowWalkHasNoFloor(int seconds) {
    DoubleUnaryOperator valley = tauS -> FLOOR_DPS * Math.sqrt((256 / tauS + tauS / 256) / 2);
    Noise.Axis axis = read(drawn(seconds, valley));
    assertThat(axis.biasInstabilityDegPerH().reason()).contains("not resolved");
  }

  /** As published curves are read: the minimum, with what N and K add to it. */
  @Test
  void aFloorBetweenTwoSlopesIsItsMinimumOver0664() {
    double b2 = AllanFit.FLOOR_SQUARED * 1e-6;
    DoubleUnaryOperator law = tauS -> Math.sqrt(64 * b2 / tauS + b2 + b2 * tauS / 2048);
    Noise.Axis axis = read(drawn(163_840, law));
    double least = Math.min(law.applyAsDouble(256), law.applyAsDouble(512));
    assertThat(axis.biasInstabilityDegPerH().value())
        .isCloseTo(3600 * least / 0.664, Percentage.withPercentage(1));
    assertThat(axis.rateRandomWalkDpsPerSqrtS().value())
        .isCloseTo(Math.sqrt(3 * b2 / 2048), Percentage.withPercentage(1));
    Estimate brief = read(drawn(20_480, law)).biasInstabilityDegPerH();
    assertThat(brief.value())
        .as("where no rise is shown yet, what white noise adds is taken off")
        .isBetween(3.6, 0.92 * 3600 * least / 0.664);
  }

  /** NIST SP 1065's set is white. */
  @Test
  void theThousandPublishedReadingsHaveNeitherAFloorNorASlowWalk() {
    double[] readings = ReferenceFile.of("riley-1000").column("n");
    Noise.Axis axis = read(of(Arrays.stream(readings).map(n -> n / 2147483647).toArray()));
    assertThat(axis.biasInstabilityDegPerH().reason()).contains("not resolved");
    assertThat(axis.rateRandomWalkDpsPerSqrtS().reason()).contains("not resolved");
    // Its deviation at 1 s as printed in table 31 is white noise alone.
    assertThat(axis.angleRandomWalkDegPerSqrtH().value() / 60)
        .isCloseTo(0.2922319, Percentage.withPercentage(3));
  }

  /** White noise that sinks below the floor at 15 s, in an hour. */
  @Test
  void flickerIsReadWithItsBWhereTheRecordReachesIt() {
    int held = 0;
    double sum = 0;
    for (int seed = 1; seed <= 30; seed++) {
      double[] rates =
          Noises.sum(Noises.white(3600, 0.007, 71 * seed), Noises.flicker(3600, 10.0 / 3600, seed));
      Estimate b = read(of(rates)).biasInstabilityDegPerH();
      assertThat(b.known()).as("seed %d", seed).isTrue();
      held += b.low() <= 10 && 10 <= b.high() ? 1 : 0;
      sum += b.value() / 30;
    }
    System.out.printf("B of 10: mean %.2f, in its limits %d of 30%n", sum, held);
    assertThat(sum).isBetween(9.3, 10.7);
    assertThat(held).isGreaterThanOrEqualTo(26);
  }

  @Test
  void whiteNoiseAndASlowWalkAreNotCalledAFloor() {
    for (int seed = 1; seed <= 30; seed++) {
      double[] walk = Noises.white(7200, 1.5e-4, 1000 + seed);
      for (int i = 1; i < walk.length; i++) {
        walk[i] += walk[i - 1];
      }
      Noise.Axis axis = read(of(Noises.sum(walk, Noises.white(7200, 0.005, seed))));
      assertThat(axis.biasInstabilityDegPerH().known()).as("seed %d", seed).isFalse();
    }
  }
}

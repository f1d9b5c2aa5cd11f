package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;
import soakbench.numerics.allan.AllanDeviation;

/**
 * What a simulated gyro reads, against the noise model of IEEE Std 952-1997, annex C: white noise N
 * has the Allan deviation N / sqrt(tau), flicker noise B the floor B sqrt(2 ln 2 / pi).
 */
class GyroTest {
  private static final int RATE_HZ = 20;

  private final Attitude still = new Attitude(List.of());

  private static SimulatedUnit unit(double whiteDps, double flickerDegPerH, double stepDps) {
    Axis axis =
        new Axis(
            new double[] {0.3, 0.01, 0, 0},
            2,
            new double[] {0.004, 0, 0.002},
            Axis.Settling.NONE,
            new Axis.Noise(whiteDps, flickerDegPerH, 0));
    return new SimulatedUnit(
        "TEST-1",
        "lot",
        List.of(axis, axis, axis),
        0.005,
        new SimulatedUnit.Readout(0, 0, stepDps, false),
        0);
  }

  private Gyro gyro(SimulatedUnit unit, int seed) {
    return new Gyro(unit, RATE_HZ, still, new SplittableRandom(seed));
  }

  private double read(Gyro gyro, int axis) {
    return gyro.readDps(axis, still, Axis.REFERENCE_C, 0, 0);
  }

  private static double deviation(double[] readings, int factor) {
    return AllanDeviation.overlapping(List.of(readings), new int[] {factor}).get(0).deviation();
  }

  @Test
  void whiteNoiseFallsWithTheRootOfTheTimeThroughItsFigureAtOneSecond() {
    Gyro gyro = gyro(unit(0.01, 0, 0), 1);
    double[] readings = DoubleStream.generate(() -> read(gyro, 0)).limit(60_000).toArray();
    assertThat(deviation(readings, RATE_HZ)).isCloseTo(0.01, within(0.0005));
    assertThat(deviation(readings, 4 * RATE_HZ)).isCloseTo(0.005, within(0.0005));
    assertThat(deviation(readings, RATE_HZ / 4)).isCloseTo(0.02, within(0.0005));
  }

  @Test
  void flickerNoiseHasItsFloorOnEveryAxis() {
    double squares = 0;
    for (int seed = 0; seed < 4; seed++) {
      Gyro gyro = gyro(unit(0, 36, 0), seed);
      double[][] readings = new double[3][20_000];
      for (int s = 0; s < 20_000; s++) {
        gyro.step();
        for (int axis = 0; axis < 3; axis++) {
          readings[axis][s] = read(gyro, axis);
        }
      }
      for (double[] axis : readings) {
        squares += Math.pow(deviation(axis, 60), 2);
      }
    }
    double floorDps = Math.sqrt(2 * Math.log(2) / Math.PI) * 36 / 3600;
    assertThat(Math.sqrt(squares / 12)).isCloseTo(floorDps, within(0.2 * floorDps));
  }

  /** Of two that have nothing in common the variances of the difference add. */
  @Test
  void axesOfOneUnitDriftOnTheirOwn() {
    double squares = 0;
    for (int seed = 0; seed < 8; seed++) {
      Gyro gyro = gyro(unit(0, 36, 0), seed);
      double[] differences = new double[20_000];
      for (int s = 0; s < differences.length; s++) {
        gyro.step();
        differences[s] = read(gyro, 0) - read(gyro, 1);
      }
      squares += Math.pow(deviation(differences, 60), 2);
    }
    double expectedDps = Math.sqrt(2) * 0.664 * 36 / 3600;
    assertThat(Math.sqrt(squares / 8)).isCloseTo(expectedDps, within(0.2 * expectedDps));
  }

  @Test
  void axesOfOneUnitScatterOnTheirOwn() {
    Gyro gyro = gyro(unit(0.01, 36, 0), 3);
    double products = 0;
    for (int i = 0; i < 10_000; i++) {
      products += (read(gyro, 0) - 0.3) * (read(gyro, 1) - 0.3);
    }
    double varianceDps2 = 0.01 * 0.01 * RATE_HZ;
    assertThat(products / 10_000 / varianceDps2).isCloseTo(0, within(0.06));
  }

  @Test
  void theBiasHoldsForThePoseOfTheBeginningWhereverTheEarthTurns() {
    Gyro gyro = gyro(unit(0, 0, 0), 1);
    assertThat(read(gyro, 0)).isCloseTo(0.3, within(1e-12));
    assertThat(gyro.readDps(0, still, Axis.REFERENCE_C + 10, 0.01, 0))
        .isCloseTo(0.3 + 0.1 + 0.02, within(1e-12));
  }

  @Test
  void anotherPoseAddsGravitysAndTheEarthsDifference() {
    Gyro gyro = gyro(unit(0, 0, 0), 1);
    double[] x = {1, 0, 0};
    Attitude over = new Attitude(List.of(new Motion(0, 1, Motion.Kind.TURN, x, 180, 0)));
    over.advanceTo(2);
    double verticalDps = 0.004178 * Math.sin(Math.toRadians(52));
    double differenceDps = gyro.readDps(2, over, Axis.REFERENCE_C, 0, 0) - read(gyro, 2);
    assertThat(differenceDps).isCloseTo(-2 * 0.002 - 2 * verticalDps, within(1e-12));
  }

  @Test
  void eachBootButTheFirstHasAnOffsetOfItsOwn() {
    Gyro gyro = gyro(unit(0, 0, 0), 5);
    gyro.boot();
    assertThat(read(gyro, 0)).isCloseTo(0.3, within(1e-12));
    double[] squares = new double[3];
    for (int boot = 0; boot < 2_000; boot++) {
      gyro.boot();
      for (int axis = 0; axis < 3; axis++) {
        squares[axis] += Math.pow(read(gyro, axis) - 0.3, 2) / 2_000;
      }
    }
    double varianceDps2 = 0.005 * 0.005;
    assertThat(squares)
        .containsExactly(
            new double[] {varianceDps2, varianceDps2, varianceDps2}, within(0.15 * varianceDps2));
  }

  @Test
  void readingsAreWholeSteps() {
    Gyro gyro = gyro(unit(0.01, 0, 0.0076), 1);
    for (int i = 0; i < 100; i++) {
      double steps = read(gyro, 0) / 0.0076;
      assertThat(steps).isCloseTo(Math.rint(steps), within(1e-9));
    }
  }
}

package soakbench.drift.calibration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;

/** What poses tell of a residual, on seconds whose every part is known. */
class ResidualRateTest {
  private static final double N = 0.005;
  private static final double EARTH_DPS = 0.004178;
  private static final Estimate NO_TEMPCO = Estimate.unknown("not asked");
  private static final double[][] FACES = {
    {0, 0, 1}, {0, 1, 0}, {0, 0, -1}, {0, -1, 0}, {1, 0, 0}, {-1, 0, 0}
  };

  /** A unit whose x, y and z have the same sensitivity to gravity along x, y and z. */
  private static final class Unit {
    private final SplittableRandom random;
    private final double[][] sensitivity;
    private final List<Bin> bins = new ArrayList<>();
    private final double n;
    private long second = 1000;
    private int boot;

    private Unit(long seed, double scale, double n) {
      this.random = new SplittableRandom(seed);
      this.n = n;
      this.sensitivity = new double[3][3];
      for (double[] row : sensitivity) {
        for (int g = 0; g < 3; g++) {
          row[g] = scale * random.nextGaussian();
        }
      }
    }

    /** Lies there, with the Earth's level part along any direction. */
    private List<Bin> lies(int seconds, double[] up, double biasDps, double temperatureC) {
      double[] earth = earth(up);
      List<Bin> there = new ArrayList<>();
      for (int s = 0; s < seconds; s++) {
        Channel[] rates = new Channel[3];
        Channel[] accel = new Channel[3];
        for (int i = 0; i < 3; i++) {
          double gravity = 0;
          for (int g = 0; g < 3; g++) {
            gravity += sensitivity[i][g] * up[g];
          }
          double mean = biasDps + gravity + earth[i] + n * random.nextGaussian();
          rates[i] = new Channel(10, mean, n * Math.sqrt(10));
          accel[i] = new Channel(10, up[i], 0.001);
        }
        Channel warm = new Channel(1, temperatureC, Double.NaN);
        there.add(new Bin("T-1", second++, 0, 0, boot, warm, rates, accel, 0.01, 0.001));
      }
      bins.addAll(there);
      return there;
    }

    private double[] earth(double[] up) {
      double latitude = Math.toRadians(45);
      double[] level = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
      double along = level[0] * up[0] + level[1] * up[1] + level[2] * up[2];
      double length = 0;
      for (int i = 0; i < 3; i++) {
        level[i] -= along * up[i];
        length += level[i] * level[i];
      }
      double[] out = new double[3];
      for (int i = 0; i < 3; i++) {
        double part = Math.cos(latitude) * level[i] / Math.sqrt(length);
        out[i] = EARTH_DPS * (Math.sin(latitude) * up[i] + part);
      }
      return out;
    }

    /** A hand, for a second. */
    private void moved() {
      Channel hand = new Channel(10, 20, 30);
      Channel[] rates = {hand, hand, hand};
      Channel[] accel = {new Channel(10, 0.5, 1), hand, hand};
      bins.add(new Bin("T-1", second++, 0, 0, boot, Channel.EMPTY, rates, accel, 0.01, 0.001));
    }
  }

  /** A handling: a minute before, poses of so many seconds on these faces, a minute after. */
  private record Handled(List<Bin> before, List<Bin> handled, List<Bin> after) {
    static Handled of(Unit unit, int poseS, double posedDps, double leftDps, double warmerC) {
      List<Bin> before = unit.lies(60, FACES[2], 0.01, 31);
      unit.boot++;
      unit.bins.clear();
      unit.moved();
      for (double[] face : poseS == 0 ? new double[0][] : FACES) {
        unit.lies(poseS, face, posedDps, 31 + warmerC);
        unit.moved();
      }
      List<Bin> handled = List.copyOf(unit.bins);
      return new Handled(before, handled, unit.lies(60, FACES[5], leftDps, 31));
    }

    List<Estimate> residual(Rates rates, double n, Estimate tempco) {
      double[] white = {n, n, n};
      long at = before.get(before.size() - 1).second() + 1;
      long rest = after.get(0).second();
      HandlingSeen seen =
          new HandlingSeen(
              at,
              rest,
              HandlingSeen.Kind.CALIBRATION,
              31,
              new double[3],
              60,
              6,
              true,
              rest - at,
              0);
      return ResidualRate.of(
          seen, before, handled, after, rates, white, Collections.nCopies(3, tempco));
    }
  }

  @Test
  void whatGravityAddsIsTakenOffWhereThePosesShowIt() {
    Unit unit = new Unit(1, 0.03, 0.001);
    Handled handled = Handled.of(unit, 10, 0.4, 0.007, 0);
    List<Estimate> corrected = handled.residual(Rates.CONSTANT, 0.001, NO_TEMPCO);
    List<Estimate> raw =
        Handled.of(unit, 10, 0.017, 0.017, 0).residual(Rates.RAW, 0.001, NO_TEMPCO);
    for (int i = 0; i < 3; i++) {
      double read = handled.after().get(0).gyroDps()[i].mean();
      assertThat(Math.abs(read - 0.007)).isGreaterThan(0.01);
      assertThat(corrected.get(i).value()).isCloseTo(0.007, within(0.006));
      assertThat(raw.get(i).value()).isCloseTo(0.007, within(0.008));
    }
  }

  @Test
  void withoutPosesTheIntervalHoldsWhatGravityMayAdd() {
    Unit unit = new Unit(2, 0.004, N);
    Estimate none = Handled.of(unit, 0, 0, 0, 0).residual(Rates.CONSTANT, N, NO_TEMPCO).get(0);
    Estimate six = Handled.of(unit, 30, 0, 0, 0).residual(Rates.CONSTANT, N, NO_TEMPCO).get(0);
    assertThat(none.se()).isBetween(0.005, 0.015);
    assertThat(six.se()).isLessThan(none.se() / 2);
  }

  @Test
  void posesOfAnotherBootTellNothing() {
    Unit unit = new Unit(3, 0.004, N);
    Handled all = Handled.of(unit, 10, 0.3, 0.3, 0);
    List<Bin> otherBoot = all.handled().stream().map(b -> b.withBoot(b.boot() - 1)).toList();
    Handled other = new Handled(all.before(), otherBoot, all.after());
    Handled none = new Handled(all.before(), all.handled().subList(0, 1), all.after());
    assertThat(other.residual(Rates.RAW, N, NO_TEMPCO))
        .isEqualTo(none.residual(Rates.RAW, N, NO_TEMPCO));
  }

  @Test
  void ofAUnitThatWasNotLiftedEarthAndGravityCancel() {
    Unit unit = new Unit(4, 0.004, N);
    List<Bin> lying = unit.lies(120, FACES[0], 0.2, 31);
    Handled handled = new Handled(lying.subList(0, 60), List.of(), lying.subList(60, 120));
    double noise = N * Math.sqrt(2 / 60.0);
    assertThat(handled.residual(Rates.RAW, N, NO_TEMPCO))
        .allSatisfy(e -> assertThat(e.se()).isCloseTo(noise, within(1e-6)));
    assertThat(handled.residual(Rates.CONSTANT, N, NO_TEMPCO))
        .allSatisfy(e -> assertThat(e.se()).isGreaterThan(EARTH_DPS));
  }

  /** Off while it was taken up and laid down: nobody saw it, and yet it lies elsewhere. */
  @Test
  void ofAUnitThatWasOffAllTheWhileTheyDoNotCancel() {
    Unit unit = new Unit(6, 0.004, N);
    List<Bin> before = unit.lies(60, FACES[0], 0.2, 31);
    unit.second += 30;
    Handled off = new Handled(before, List.of(), unit.lies(60, FACES[2], 0.2, 31));
    assertThat(off.residual(Rates.RAW, N, NO_TEMPCO))
        .allSatisfy(e -> assertThat(e.se()).isGreaterThan(0.002));
  }

  @Test
  void posesTakenWarmerAreReadAtTheTemperatureAfter() {
    Unit unit = new Unit(5, 0.02, 0.001);
    Estimate tempco = Estimate.of(0.05, 0.001, 1.96);
    // Two degrees warmer the bias is 0.1 deg/s more.
    List<Estimate> raw = Handled.of(unit, 10, 0.117, 0.017, 2).residual(Rates.RAW, 0.001, tempco);
    assertThat(raw).allSatisfy(e -> assertThat(e.value()).isCloseTo(0.007, within(0.008)));
  }

  /** 95 % intervals over units from dull to sensitive, by simulation. */
  @Test
  void intervalsHoldWhatIsLeft() {
    for (Rates rates : List.of(Rates.CONSTANT, Rates.RAW)) {
      int held = 0;
      int all = 0;
      for (int seed = 0; seed < 300; seed++) {
        Unit unit = new Unit(100 + seed, new double[] {0.001, 0.004, 0.015}[seed % 3], N);
        double left = rates == Rates.CONSTANT ? 0.005 : 0.015;
        Handled handled = Handled.of(unit, 2 + seed % 7, left, left, 0);
        for (Estimate e : handled.residual(rates, N, NO_TEMPCO)) {
          held += e.low() <= 0.005 && e.high() >= 0.005 ? 1 : 0;
          all++;
        }
      }
      System.out.printf("%s: %d of %d intervals hold what is left%n", rates, held, all);
      assertThat(held / (double) all).isBetween(0.93, 0.995);
    }
  }
}

package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** The linear filter and its steps against published figures and closed forms. */
class BeliefReferenceTest {
  /**
   * Flow of the Nile at Aswan, 1871 to 1970, 1e8 m^3: R's {@code datasets::Nile}, entered from
   * memory (100 values, mean 919.35).
   */
  private static final double[] NILE = {
    1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180,
    799, 958, 1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833,
    701, 916, 692, 1020, 1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845,
    864, 862, 698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649,
    846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050, 918, 986, 797, 923, 975, 815,
    1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740
  };

  private static final double[] LEVEL = {1};

  /**
   * J. Durbin and S. J. Koopman, Time Series Analysis by State Space Methods, 2nd ed. 2012, 2.2 and
   * 2.10: local level, variances 15099 and 1469.1, log-likelihood -632.54 without the first,
   * diffuse value, -641.5856 with it under a variance of 1e7. Figures from memory.
   */
  @Test
  void theNilesLocalLevelHasThePublishedLikelihood() {
    Belief level = new Belief(new double[] {0}, new double[] {Math.sqrt(1e7)});
    Discrete year = Discrete.of(new double[][] {{0}}, new double[][] {{1469.1}}, 1);
    double all = 0;
    double first = 0;
    for (int i = 0; i < NILE.length; i++) {
      double likely = level.update(LEVEL, NILE[i] - level.mean(0), 15099);
      first = i == 0 ? likely : first;
      all += likely;
      if (i == 0) {
        assertThat(level.mean(0)).isCloseTo(1118, within(0.5));
        assertThat(level.cov(0, 0)).isCloseTo(15076.2, within(0.1));
      }
      level.predict(year);
    }
    assertThat(all).isCloseTo(-641.5856, within(1e-4));
    assertThat(all - first).isCloseTo(-632.54, within(0.005));
    assertThat(level.cov(0, 0)).as("steady variance of the next").isCloseTo(5501.3, within(0.1));
  }

  /** E. g. Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, eq. 4.17. */
  @Test
  void aSmoothWanderHasTheMaternCovarianceOfOrderThreeHalves() {
    Swing swing = new Swing(1, 900, 1, 1);
    double rate = swing.rate();
    for (double seconds : new double[] {1, 10, 60, 180, 700}) {
      double x = rate * seconds;
      Discrete step = step(swing, seconds);
      assertThat(step.move()[0]).isCloseTo((1 + x) * Math.exp(-x), within(1e-12));
      holdsItsCovariance(step, rate);
    }
  }

  /** The damped oscillator of mechanics under white force; Solin and Sarkka 2014. */
  @Test
  void aCycleHasTheCovarianceOfADampedOscillator() {
    Swing swing = new Swing(1, 600, 0.1, 1);
    double w = swing.rate();
    double free = w * Math.sqrt(1 - 0.01);
    for (double seconds : new double[] {1, 10, 60, 180, 700}) {
      double damped = Math.exp(-0.1 * w * seconds);
      double covariance =
          damped * (Math.cos(free * seconds) + 0.1 * w / free * Math.sin(free * seconds));
      Discrete step = step(swing, seconds);
      assertThat(step.move()[0]).isCloseTo(covariance, within(1e-12));
      holdsItsCovariance(step, w);
    }
  }

  private static Discrete step(Swing swing, double seconds) {
    return Discrete.of(swing.drift(), new double[][] {{0, 0}, {0, swing.density()}}, seconds);
  }

  /** Variances 1 and w^2 must come out of a step as they went in. */
  private static void holdsItsCovariance(Discrete step, double w) {
    Belief belief = new Belief(new double[2], new double[] {1, w});
    belief.predict(step);
    assertThat(belief.cov(0, 0)).isCloseTo(1, within(1e-10));
    assertThat(belief.cov(0, 1) / w).isCloseTo(0, within(1e-10));
    assertThat(belief.cov(1, 1) / w / w).isCloseTo(1, within(1e-10));
  }

  /** A body whose slope is a random walk: the textbook's t^3 / 3, t^2 / 2, t. */
  @Test
  void aWanderingSlopeAddsTheTextbooksCovariance() {
    Discrete step =
        Discrete.of(new double[][] {{0, 1}, {0, 0}}, new double[][] {{0, 0}, {0, 3}}, 2);
    assertThat(step.move()).containsExactly(new double[] {1, 2, 0, 1}, within(1e-14));
    assertThat(step.stir()).containsExactly(new double[] {8, 6, 6, 6}, within(1e-12));
  }

  @Test
  void innovationsOfWhatWasFilteredByItsOwnLawAreWhite() {
    Swing swing = new Swing(0.3, 600, 0.1, 1);
    Discrete step = step(swing, 10);
    SplittableRandom random = new SplittableRandom(5);
    double scale = 0.3;
    double[] truth = {scale * random.nextGaussian(), scale * swing.rate() * random.nextGaussian()};
    Belief belief = new Belief(new double[2], new double[] {scale, scale * swing.rate()});
    double[] scaled = step.stir().clone();
    for (int i = 0; i < 4; i++) {
      scaled[i] *= scale * scale;
    }
    double first = Math.sqrt(scaled[0]);
    double second = scaled[1] / first;
    double third = Math.sqrt(scaled[3] - second * second);
    double[] row = {1, 0};
    int n = 20_000;
    double[] innovation = new double[n];
    for (int i = 0; i < n; i++) {
      double read = truth[0] + 0.05 * random.nextGaussian();
      double sd = Math.sqrt(belief.varianceOf(row) + 0.05 * 0.05);
      innovation[i] = (read - belief.mean(0)) / sd;
      belief.update(row, read - belief.mean(0), 0.05 * 0.05);
      belief.predict(new Discrete(2, step.move(), scaled));
      double a = random.nextGaussian();
      double b = random.nextGaussian();
      double[] f = step.move();
      truth =
          new double[] {
            f[0] * truth[0] + f[1] * truth[1] + first * a,
            f[2] * truth[0] + f[3] * truth[1] + second * a + third * b
          };
    }
    double bound = 4 / Math.sqrt(n);
    assertThat(correlation(innovation, 0)).isCloseTo(1, within(bound * Math.sqrt(2)));
    for (int lag = 1; lag <= 20; lag++) {
      assertThat(correlation(innovation, lag)).as("lag " + lag).isCloseTo(0, within(bound));
    }
  }

  private static double correlation(double[] values, int lag) {
    double sum = 0;
    for (int i = lag; i < values.length; i++) {
      sum += values[i] * values[i - lag];
    }
    return sum / (values.length - lag);
  }

  /**
   * Half a normal distribution: mean sqrt(2 / pi), variance 1 - 2 / pi (any table of
   * distributions).
   */
  @Test
  void aCutNormalLawHasTheMomentsOfTheTables() {
    CutNormal half = CutNormal.between(0, Double.POSITIVE_INFINITY);
    assertThat(half.logShare()).isCloseTo(Math.log(0.5), within(1e-6));
    assertThat(half.mean()).isCloseTo(Math.sqrt(2 / Math.PI), within(1e-6));
    assertThat(half.variance()).isCloseTo(1 - 2 / Math.PI, within(1e-5));
    CutNormal narrow = CutNormal.between(1, 1.2);
    double[] moments = integrated(1, 1.2);
    assertThat(narrow.mean()).isCloseTo(moments[0], within(1e-4));
    assertThat(narrow.variance()).isCloseTo(moments[1], within(1e-4));
    CutNormal far = CutNormal.between(7, 8);
    moments = integrated(7, 8);
    assertThat(far.mean()).isCloseTo(moments[0], within(0.01));
    assertThat(far.variance()).isCloseTo(moments[1], within(0.002));
  }

  private static double[] integrated(double low, double high) {
    double share = 0;
    double mean = 0;
    double square = 0;
    for (int i = 0; i < 100_000; i++) {
      double x = low + (i + 0.5) / 100_000 * (high - low);
      double d = Normal.density(x);
      share += d;
      mean += d * x;
      square += d * x * x;
    }
    return new double[] {mean / share, square / share - mean * mean / share / share};
  }

  /** An interval that is much wider than what is known says nothing; its edge says much. */
  @Test
  void aReadingBetweenTwoStepsSaysMuchAtItsEdgeOnly() {
    Belief.Sum sum = new Belief.Sum(0, 1, 2, 3);
    Belief middle = new Belief(new double[] {31.0, 0, 0, 0}, new double[] {0.02, 0, 0, 0});
    middle.updateWithin(sum, -0.25, 0.25, 0.02);
    assertThat(middle.cov(0, 0)).isCloseTo(4e-4, within(1e-8));
    Belief edge = new Belief(new double[] {31.0, 0, 0, 0}, new double[] {0.1, 0, 0, 0});
    edge.updateWithin(sum, 0, 0.5, 0.001);
    assertThat(edge.mean(0)).isCloseTo(31 + 0.1 * Math.sqrt(2 / Math.PI), within(1e-4));
  }

  @Test
  void whatIsExpectedNarrowsAsMuchAsWhatIsRead() {
    Belief read = new Belief(new double[] {1, 2}, new double[] {0.5, 0.7});
    Belief expected = read.copy();
    double[] row = {1, -0.5};
    read.update(row, 0.3, 0.04);
    double[] gain = expected.confirm(row, 0.04);
    double sd = Math.sqrt(0.25 + 0.25 * 0.49 + 0.04);
    for (int i = 0; i < 2; i++) {
      assertThat(expected.cov(i, i)).isCloseTo(read.cov(i, i), within(1e-15));
      assertThat(expected.mean(i) + gain[i] * 0.3 / sd).isCloseTo(read.mean(i), within(1e-12));
    }
  }

  /** The quick way of a plain sum is the same number, not another one nearby. */
  @Test
  void aPlainSumIsReadAsItsRowIs() {
    int n = 9;
    Belief byRow = tangled(n);
    Belief bySum = byRow.copy();
    double[] row = new double[n];
    Belief.Sum sum = new Belief.Sum(1, 4, 5, 8);
    for (int i : new int[] {1, 4, 5, 8}) {
      row[i] = 1;
    }
    assertThat(bySum.meanOf(sum)).isEqualTo(byRow.meanOf(row));
    assertThat(bySum.varianceOf(sum)).isEqualTo(byRow.varianceOf(row));
    assertThat(bySum.update(sum, 0.3, 0.04)).isEqualTo(byRow.update(row, 0.3, 0.04));
    assertThat(bySum.confirm(sum, 0.01)).isEqualTo(byRow.confirm(row, 0.01));
    assertThat(bySum.means()).isEqualTo(byRow.means());
    assertThat(bySum.covariance()).isEqualTo(byRow.covariance());
  }

  private static Belief tangled(int n) {
    SplittableRandom random = new SplittableRandom(5);
    double[] mean = new double[n];
    double[] sd = new double[n];
    for (int i = 0; i < n; i++) {
      mean[i] = random.nextGaussian();
      sd[i] = 1 + random.nextDouble();
    }
    Belief belief = new Belief(mean, sd);
    for (int i = 1; i < n; i++) {
      belief.shear(i, i - 1, random.nextGaussian());
    }
    return belief;
  }
}

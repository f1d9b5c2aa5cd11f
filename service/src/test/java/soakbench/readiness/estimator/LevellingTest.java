package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import soakbench.numerics.RelaxationMixture;

/** Where a filter's body levels off, against the same worked out from draws of its state. */
class LevellingTest {
  private static final double TAU_S = 700;

  private static Member member() {
    Swing calm = new Swing(0.003, 900, 1, 1);
    Member member = new Member(new RoomModel(TAU_S, 0.15, calm, 1, 180), 25);
    // Seen to warm by half a degree a minute: the level follows from slope and time constant.
    double[] slope = new double[Thermal.SIZE];
    Thermal.rateRow(slope);
    member.belief().update(slope, 0.5 / 60 - member.belief().meanOf(slope), 1e-10);
    return member;
  }

  @Test
  void plateauAndDistanceAreThoseOfTheState() {
    Member member = member();
    Belief b = member.belief();
    RelaxationMixture told = Levelling.of(List.of(part(member)));
    double k = b.mean(Thermal.INVERSE);
    double level = b.mean(Thermal.BODY) + b.mean(Thermal.SLOPE) / k;
    assertThat(told.plateau().value()).isCloseTo(level, within(1e-9));
    assertThat(told.present().value()).isCloseTo(b.mean(Thermal.BODY), within(1e-9));
    assertThat(told.slope().value()).isCloseTo(b.mean(Thermal.SLOPE), within(1e-12));
    double after = level + (b.mean(Thermal.BODY) - level) * Math.exp(-300 * k);
    assertThat(told.present().value() + told.change(300).value()).isCloseTo(after, within(1e-9));
  }

  /** To first order in the state's errors, as the filter itself is. */
  @Test
  void itsErrorsAreThoseOfTheStateCarriedOn() {
    Member member = member();
    Belief b = member.belief();
    int[] parts = {Thermal.BODY, Thermal.SLOPE, Thermal.INVERSE};
    double[][] root = root(b, parts);
    SplittableRandom random = new SplittableRandom(3);
    double k = b.mean(Thermal.INVERSE);
    double s = b.mean(Thermal.SLOPE);
    double sum = 0;
    int draws = 200_000;
    for (int i = 0; i < draws; i++) {
      double[] z = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
      double[] d = new double[3];
      for (int r = 0; r < 3; r++) {
        for (int c = 0; c <= r; c++) {
          d[r] += root[r][c] * z[c];
        }
      }
      double off = d[0] + d[1] / k - d[2] * s / (k * k);
      sum += off * off;
    }
    double sd = Math.sqrt(sum / draws);
    assertThat(Levelling.of(List.of(part(member))).plateau().se()).isCloseTo(sd, within(0.01 * sd));
  }

  private static WeighedFilter part(Member member) {
    return new WeighedFilter(1, 1, member, 25, new AxisBank[0]);
  }

  /** Cholesky's root of the covariance of three entries. */
  private static double[][] root(Belief b, int[] parts) {
    double[][] l = new double[3][3];
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = b.cov(parts[i], parts[j]);
        for (int k = 0; k < j; k++) {
          sum -= l[i][k] * l[j][k];
        }
        l[i][j] = i == j ? Math.sqrt(sum) : sum / l[j][j];
      }
    }
    return l;
  }
}

package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Offset;
import org.hipparchus.distribution.continuous.FDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.numerics.allan.AllanConfidence;

/**
 * Quantiles as this program takes them from its library, against the tables of the NIST/SEMATECH
 * e-Handbook of Statistical Methods.
 */
class DistributionReferenceTest {

  /** NIST/SEMATECH e-Handbook 1.3.6.7.2. */
  @Test
  void studentTQuantilesAreThoseOfTheTable() {
    ReferenceFile table = ReferenceFile.of("table-student-t");
    assertThat(table.size()).isEqualTo(21);
    for (int i = 0; i < table.size(); i++) {
      TDistribution t = new TDistribution(table.column("df")[i]);
      double p = table.column("p")[i];
      assertThat(t.inverseCumulativeProbability(p))
          .as("t(%s), %s degrees of freedom", p, table.column("df")[i])
          .isCloseTo(table.column("t")[i], rounding(table, "t", i));
    }
  }

  /** NIST/SEMATECH e-Handbook 1.3.6.7.3; its 1.9855 is cut, not rounded. */
  @Test
  void quantilesOfFAreThoseOfTheTable() {
    ReferenceFile table = ReferenceFile.of("table-f");
    assertThat(table.size()).isEqualTo(19);
    for (int i = 0; i < table.size(); i++) {
      double df1 = table.column("df1")[i];
      double df2 = table.column("df2")[i];
      double printed = table.column("f")[i];
      double up = printed == 1.9855 ? 2 : 1;
      double half = rounding(table, "f", i).value;
      assertThat(new FDistribution(df1, df2).inverseCumulativeProbability(table.column("p")[i]))
          .as("F(%s) for %s and %s", table.column("p")[i], df1, df2)
          .isBetween(printed - half, printed + up * half);
    }
  }

  /**
   * NIST/SEMATECH e-Handbook 1.3.6.7.4. The limits of an Allan deviation are its square root of
   * degrees of freedom over a quantile, so each limit gives back the quantile it was taken from.
   */
  @Test
  void limitsOfAnAllanDeviationStandOnTheChiSquaredQuantilesOfTheTable() {
    ReferenceFile table = ReferenceFile.of("table-chi-square");
    assertThat(table.size()).isEqualTo(17);
    for (int i = 0; i < table.size(); i++) {
      double p = table.column("p")[i];
      double df = table.column("df")[i];
      double limit = AllanConfidence.limits(1, df, Math.abs(2 * p - 1))[p > 0.5 ? 0 : 1];
      assertThat(df / (limit * limit))
          .as("chi-squared(%s), %s degrees of freedom", p, df)
          .isCloseTo(table.column("x")[i], rounding(table, "x", i));
    }
  }

  /** As printed; the sliver more is for a value that lies between two printed ones. */
  private static Offset<Double> rounding(ReferenceFile table, String column, int row) {
    return Offset.offset(1.002 * table.roundingOf(column, row));
  }
}

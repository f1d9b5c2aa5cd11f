package soakbench.lots.compare;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Limits;

/** What lots of units come to, in words and by how they were measured. */
class ComparisonTest {
  private static final String FIRST = "2026-03-01";
  private static final String SECOND = "2026-03-08";
  private static final LotLimits LIMITS = LotLimits.of(Limits.DEFAULT, List.of());

  private static Comparison compared(String metric, Lot... lots) {
    return Comparison.of(
        Metrics.byName().get(metric), List.of(lots), LIMITS, Detectable.Wanted.DEFAULT);
  }

  private static Lot lot(String name, int units, double sd, double plateauC, long seed) {
    return new LotFixtures(name, seed).units(units, sd, plateauC, FIRST).lot();
  }

  @Test
  void lotsOfOneLawShowNoDifferenceAndWhatCouldHaveBeenSeen() {
    Comparison c =
        compared(
            Metrics.DEFAULT, lot("Barley-2", 12, 0.01, 31, 1), lot("Tansy-4", 12, 0.01, 31, 2));
    assertThat(c.words().headline())
        .startsWith("no difference shown in size between Barley-2's and Tansy-4's coefficients")
        .endsWith("no unit is outside the limit");
    assertThat(c.detectable().ratio()).isBetween(1.2, 3.0);
    assertThat(c.detectable().eachForRatio()).isGreaterThan(12);
  }

  @Test
  void aLevelThatDiffersIsToldWithItsDifference() {
    Comparison c =
        compared("plateau_c", lot("Barley-2", 12, 0.01, 31, 1), lot("Tansy-4", 12, 0.01, 31.6, 2));
    assertThat(c.words().headline())
        .startsWith("Tansy-4's plateaus are higher than Barley-2's by 0.")
        .contains(" degC (95 % interval 0.");
    assertThat(c.spread().ratio().reason()).isEqualTo("a level is not so many times as large");
    assertThat(c.level().effectSize().value()).isGreaterThan(3);
  }

  @Test
  void aMeanThatDiffersThoughSizesAgreeIsToldBesideIt() {
    LotFixtures up = new LotFixtures("Barley-2", 5);
    LotFixtures down = new LotFixtures("Tansy-4", 6);
    for (int i = 0; i < 10; i++) {
      double tempco = 0.02 + 0.0005 * i;
      up.unit(new double[] {tempco, 0, 0}, 31, 0.3, FIRST);
      down.unit(new double[] {-tempco, 0, 0}, 31, 0.3, FIRST);
    }
    assertThat(compared("tempco_x_dps_per_c", up.lot(), down.lot()).words().headline())
        .startsWith(
            "no difference shown in size between Barley-2's and Tansy-4's coefficients of x")
        .contains("; Tansy-4's mean is lower by 0.0445 deg/s per degC (");
  }

  @Test
  void threeUnitsOfEachThatShareADayAreEnoughAndTwoAreNot() {
    Lot first = lot("Barley-2", 9, 0.01, 31, 1);
    for (int shared : new int[] {2, 3}) {
      Lot other =
          new LotFixtures("Tansy-4", 2)
              .units(9 - shared, 0.01, 31, SECOND)
              .units(shared, 0.01, 31, FIRST)
              .lot();
      Block day = compared(Metrics.DEFAULT, first, other).blocks().get(0);
      assertThat(day.shared()).isEqualTo(shared == 3);
      assertThat(day.difference().known()).isEqualTo(shared == 3);
      if (shared == 2) {
        assertThat(day.reason())
            .isEqualTo("only 9 of Barley-2 and 2 of Tansy-4 share a day; it takes 3 of each");
      }
    }
  }

  @Test
  void aDifferenceThatIsTheDaysIsNotThereWithinThem() {
    Lot early =
        new LotFixtures("Barley-2", 1).units(12, 0.01, 31, FIRST).units(4, 0.01, 32, SECOND).lot();
    Lot late =
        new LotFixtures("Tansy-4", 2).units(4, 0.01, 31, FIRST).units(12, 0.01, 32, SECOND).lot();
    Comparison c = compared("plateau_c", early, late);
    assertThat(c.level().p()).isLessThan(0.05);
    assertThat(c.blocks().get(0).difference().low()).isNegative();
    assertThat(c.blocks().get(0).difference().high()).isPositive();
    assertThat(c.words().advice())
        .contains(
            "compared within one day the difference of means is another: that may make part of it");
  }

  @Test
  void lotsThatShareNoDayAreJoinedByOneThatSharesWithBoth() {
    Lot first = lot("Barley-2", 6, 0.01, 31, 1);
    Lot last = new LotFixtures("Tansy-4", 2).units(6, 0.01, 31, SECOND).lot();
    Lot both =
        new LotFixtures("Fern-3", 3).units(4, 0.01, 31, FIRST).units(4, 0.01, 31, SECOND).lot();
    assertThat(compared(Metrics.DEFAULT, first, last).words().headline())
        .isEqualTo("can't tell lot from day");
    assertThat(compared(Metrics.DEFAULT, first, last, both).words().confounded()).isEmpty();
  }

  @Test
  void timeConstantsThatAreOnlyBelievedAreNotCompared() {
    Lot lot = lot("Barley-2", 6, 0.01, 31, 1);
    assertThat(compared("time_constant_s", lot).lots().get("Barley-2").missing())
        .isEqualTo("no soak shows it; what is believed of any body is not compared");
  }

  @Test
  void whatNobodyRecordedIsNotKnownAndHidesNothing() {
    Comparison c =
        compared(Metrics.DEFAULT, lot("Barley-2", 6, 0.01, 31, 1), lot("Tansy-4", 6, 0.01, 31, 2));
    Block rack = c.blocks().get(1);
    assertThat(rack.by()).isEqualTo("rack");
    assertThat(rack.shared()).isNull();
    assertThat(rack.reason()).isEqualTo("no rack is recorded");
    assertThat(c.words().confounded()).isEmpty();
  }

  @Test
  void aUnitFiveTimesAsNoisyAsItsLotDoesNotFitIt() {
    Lot lot =
        new LotFixtures("Barley-2", 4)
            .units(24, 0.01, 31, FIRST)
            .unit(new double[] {0.01, 0.01, 0.01}, 31, 1.5, FIRST)
            .lot();
    Screening odd = Screening.of(lot, LIMITS).get("Barley-2-24");
    assertThat(odd.verdict()).isEqualTo(Screening.Verdict.LOOK_AGAIN);
    assertThat(odd.reason())
        .contains("does not fit its lot: angle random walks of x 1.50 deg/sqrt(h), ")
        .contains(" times its median");
  }

  @Test
  void aUnitOfWhichNoCoefficientIsKnownIsNotAccepted() {
    double[] unknown = {Double.NaN, Double.NaN, Double.NaN};
    Lot lot =
        new LotFixtures("Barley-2", 4)
            .units(3, 0.01, 31, FIRST)
            .unit(unknown, 31, 0.3, FIRST)
            .lot();
    assertThat(Screening.of(lot, LIMITS).get("Barley-2-3"))
        .isEqualTo(
            new Screening(Screening.Verdict.LOOK_AGAIN, "coefficients not known: not looked at"));
    assertThat(Screening.of(lot, LIMITS).get("Barley-2-0").verdict())
        .isEqualTo(Screening.Verdict.ACCEPT);
  }

  @Test
  void theLimitOfACoefficientIsWhatASettledUnitMayShift() {
    assertThat(LIMITS.steepest()).isEqualTo(0.010 / (0.10 * 180 / 60));
    MetricLimit signed = LIMITS.of(Metrics.byName().get("tempco_x_dps_per_c"));
    assertThat(signed.low()).isEqualTo(-signed.high());
    assertThat(LIMITS.of(Metrics.byName().get(Metrics.DEFAULT)).low()).isNull();
    assertThat(LIMITS.of(Metrics.byName().get("deg_per_min"))).isNull();
    assertThat(LIMITS.of(Metrics.byName().get("plateau_c")).high()).isEqualTo(34);
  }
}

package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.assertj.core.data.Offset;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import soakbench.thermal.RoomOutlook.Part;

/**
 * Two nodes (a body in its surroundings, a chip on its body) solved in steps of a tenth of a second
 * are the truth here, independent of the filter's own steps.
 */
class RoomFilterTest {
  private static final double TAU_S = 900;
  private static final double CHIP_S = 30;
  private static final double SELF_C = 2;
  private static final double NOISE_C = 0.003;

  private final RoomFilter filter = new RoomFilter(null);
  private final SplittableRandom random = new SplittableRandom(7);
  private double body = 21;
  private double chip = 21;
  private double timeS;

  /** Goes on to {@code toS}; {@code surroundings} of the time in s, degC. */
  private void run(double toS, DoubleUnaryOperator surroundings) {
    while (timeS < toS) {
      double sum = 0;
      for (int tenth = 0; tenth < 100; tenth++) {
        body += 0.1 * (surroundings.applyAsDouble(timeS) - body) / TAU_S;
        chip += 0.1 * (body + SELF_C - chip) / CHIP_S;
        timeS += 0.1;
        sum += chip / 100;
      }
      filter.accept(timeS - 5, sum + NOISE_C * random.nextGaussian(), NOISE_C);
    }
  }

  private double tauS() {
    double sum = 0;
    for (Part part : filter.outlook().parts()) {
      sum += part.weight() / part.mean()[4];
    }
    return sum;
  }

  private double plateauC() {
    double sum = 0;
    for (Part part : filter.outlook().parts()) {
      sum += part.weight() * (part.mean()[0] + part.mean()[1] / part.mean()[4]);
    }
    return sum;
  }

  private double swingC() {
    double sum = 0;
    for (Part part : filter.outlook().parts()) {
      sum += part.weight() * part.swingC();
    }
    return sum;
  }

  @Test
  void aSteadyRoomShowsTimeConstantAndPlateau() {
    run(1200, t -> 29);
    assertThat(tauS()).isCloseTo(TAU_S, Percentage.withPercentage(3));
    assertThat(plateauC()).isCloseTo(29 + SELF_C, Offset.offset(0.15));
    assertThat(swingC()).isLessThan(0.05);
  }

  @Test
  void weightsSumToOneFromTheFirstReadingOn() {
    run(10, t -> 29);
    double early = 0;
    for (Part part : filter.outlook().parts()) {
      early += part.weight();
    }
    assertThat(early).isCloseTo(1, Offset.offset(0.02));
  }

  @Test
  void theTimeConstantSurvivesALid() {
    run(1000, t -> 29);
    run(1150, t -> 25);
    run(1600, t -> 29);
    assertThat(tauS()).isCloseTo(TAU_S, Percentage.withPercentage(20));
    assertThat(plateauC()).isCloseTo(29 + SELF_C, Offset.offset(0.5));
  }

  @Test
  void aRoomWhoseHeatingCyclesIsSeenToBeRestless() {
    run(1500, t -> 29 + 0.6 * Math.signum(Math.sin(2 * Math.PI * t / 1000)));
    assertThat(swingC()).isGreaterThan(0.15);
  }

  @Test
  void aGapLeavesTheLawStanding() {
    run(900, t -> 29);
    while (timeS < 1300) {
      body += 0.1 * (29 - body) / TAU_S;
      chip += 0.1 * (body + SELF_C - chip) / CHIP_S;
      timeS += 0.1;
    }
    run(1400, t -> 29);
    assertThat(tauS()).isCloseTo(TAU_S, Percentage.withPercentage(6));
  }

  @Test
  void tenHoursLeaveItAsSmallAndAsSure() {
    run(36_000, t -> 29);
    RoomOutlook outlook = filter.outlook();
    assertThat(outlook.parts().length).isLessThanOrEqualTo(40);
    for (Part part : outlook.parts()) {
      for (int i = 0; i < 5; i++) {
        assertThat(part.covariance()[i][i]).as("variance %d", i).isNotNegative().isFinite();
      }
      assertThat(part.mean()[0]).isCloseTo(31, Offset.offset(0.02));
    }
  }
}

package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.FastResponse;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.thermal.cooling.Cooling;

/** A fall of a degree in a hundred seconds from 31 degC, held against known coefficients. */
class TimeUnwrappedTest {
  private static final FastResponse NOTHING_BESIDE = new FastResponse(0, 0, 0, 0, 0, 0);

  private static RecordedCooling cooling(int lengthS, FastResponse response) {
    double[] drop = IntStream.rangeClosed(0, lengthS).mapToDouble(s -> 0.01 * s).toArray();
    double[] rate = IntStream.rangeClosed(0, lengthS).mapToDouble(s -> 0.01).toArray();
    Cooling cooling = new Cooling(1000, 31, drop, rate, 0, 0);
    return new RecordedCooling(cooling, response == null ? null : Collections.nCopies(3, response));
  }

  private static TimeUnwrapped own(double slope, double nowC) {
    BiasModel[] models = Evidences.models(slope);
    return new TimeUnwrapped(cooling(300, NOTHING_BESIDE), true, models, nowC);
  }

  @Test
  void itIsTheTimeInWhichTheSteepestAxisMovesByTheLimit() {
    Estimate time = own(0.05, 31).timeS(Limits.DEFAULT);
    // 0.010 / (0.05 * 0.01) = 20 s.
    assertThat(time.value()).isCloseTo(20, within(1.0));
    assertThat(time.low()).isBetween(15.0, 20.0);
    assertThat(time.high()).isBetween(20.0, 28.0);
  }

  @Test
  void aWarmerTrackerFallsFasterByItsDistanceToTheAir() {
    // The air was no warmer than 28 degC: at 34 it is at most twice as far away as at 31.
    double time = own(0.05, 34).timeS(Limits.DEFAULT).value();
    assertThat(time).isCloseTo(10, within(1.0));
    assertThat(own(0.05, 28).timeS(Limits.DEFAULT).value()).isCloseTo(20, within(1.0));
  }

  @Test
  void whatDoesNotMoveWithinTheRecordIsAtLeastSoLong() {
    Estimate time = own(0.0002, 31).timeS(Limits.DEFAULT);
    assertThat(time.value()).isEqualTo(300);
    assertThat(time.high()).isNull();
    assertThat(time.low()).isLessThanOrEqualTo(300);
  }

  @Test
  void aLagShortensIt() {
    FastResponse lag = new FastResponse(0, 0.5, 0, 0, 0, 0);
    BiasModel[] models = Evidences.models(-0.05);
    TimeUnwrapped time = new TimeUnwrapped(cooling(300, lag), true, models, 31);
    // The bias rises by 0.0005 a second; the lag takes 0.005 off it at once.
    assertThat(time.timeS(Limits.DEFAULT).value()).isCloseTo(30, within(1.5));
    TimeUnwrapped other = new TimeUnwrapped(cooling(300, lag), true, Evidences.models(0.05), 31);
    assertThat(other.timeS(Limits.DEFAULT).value()).isCloseTo(10, within(1.0));
  }

  @Test
  void anothersCoolingLeavesThisOnesLagInDoubt() {
    FastResponse lag = new FastResponse(0, 0.5, 0, 0, 0, 0);
    BiasModel[] models = Evidences.models(0.05);
    Estimate mates = new TimeUnwrapped(cooling(300, lag), false, models, 31).timeS(Limits.DEFAULT);
    Estimate own = own(0.05, 31).timeS(Limits.DEFAULT);
    assertThat(mates.value()).isCloseTo(own.value(), within(1e-9));
    assertThat(mates.low()).isLessThan(own.low() - 3);
  }

  @Test
  void theSpreadIsWhatACalibrationInTheOpenWouldSee() {
    List<Estimate> spread = own(0.05, 31).spreadDps(Limits.DEFAULT);
    // 180 s at 0.01 degC/s at 0.05 deg/s per degC.
    assertThat(spread).hasSize(3);
    assertThat(spread.get(0).value()).isCloseTo(0.09, within(0.004));
    assertThat(spread.get(0).low()).isLessThan(0.09);
    assertThat(spread.get(0).high()).isGreaterThan(0.09);
  }

  @Test
  void aRecordShorterThanACalibrationTellsNoSpread() {
    TimeUnwrapped time =
        new TimeUnwrapped(cooling(90, NOTHING_BESIDE), true, Evidences.models(0.05), 31);
    assertThat(time.spreadDps(Limits.DEFAULT))
        .allSatisfy(e -> assertThat(e.reason()).contains("3 min", "90 s"));
    assertThat(time.timeS(Limits.DEFAULT).value()).isCloseTo(20, within(1.0));
  }
}

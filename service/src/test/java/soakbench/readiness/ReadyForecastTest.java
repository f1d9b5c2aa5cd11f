package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import soakbench.model.Limits;
import soakbench.readiness.ReadyForecast.Ahead;

class ReadyForecastTest {
  private final Evidences e = new Evidences();

  private static Limits limits(double shiftDps, double rateCPerMin) {
    Limits d = Limits.DEFAULT;
    return new Limits(
        d.heardWithinS(),
        d.gapLimitS(),
        d.stillForS(),
        d.bandLowC(),
        d.bandHighC(),
        d.bandMarginC(),
        d.useTemperatureC(),
        null,
        rateCPerMin,
        shiftDps,
        d.calibrationS(),
        d.dwellS(),
        d.holdAfterTurnS(),
        d.hotC(),
        d.riseLimitCPerMin(),
        d.alpha());
  }

  private Ahead ahead(Limits limits, double dwellS) {
    return new ReadyForecast(limits).ahead(e.make(), e.tail.orElseThrow(), dwellS);
  }

  private void heading(double plateauC, double nowC, double tauS) {
    e.temperatureC = nowC;
    e.tail = Optional.of(Evidences.tail(plateauC, nowC, tauS));
  }

  @Test
  void whatIsSettledIsReadyAfterWhatIsLeftOfTheDwell() {
    heading(31.0, 31.0, 700);
    Ahead now = ahead(Limits.DEFAULT, 20);
    assertThat(now.expected()).isEqualTo(40, Offset.offset(1e-9));
    assertThat(now.never()).isZero();
  }

  @Test
  void aWarmUpIsReadyWhenItsRateHasFallenAndTheDwellIsOver() {
    heading(31.4, 26, 700);
    // 0.0002 deg/s per degC: the rate binds, at tau ln(5.4 * 60 / 700 / 0.1), then the dwell.
    e.models = Evidences.models(0.0002);
    double settled = 700 * Math.log(5.4 * 60 / 700 / 0.1);
    Ahead ahead = ahead(Limits.DEFAULT, 0);
    assertThat(ahead.expected()).isEqualTo(settled + 60, Offset.offset(45.0));
    assertThat(ahead.earliest()).isLessThan(settled + 60);
    assertThat(ahead.latest()).isGreaterThan(settled + 60);
  }

  @Test
  void aSteepAxisWaitsForItsShift() {
    heading(31.4, 26, 700);
    e.models = Evidences.models(0.1);
    // 0.1 * D * (1 - exp(-180/700)) = 0.01 at D = 0.441 degC.
    double settled = 700 * Math.log(5.4 / (0.01 / 0.1 / -Math.expm1(-180 / 700.0)));
    assertThat(ahead(Limits.DEFAULT, 0).expected()).isEqualTo(settled + 60, Offset.offset(90.0));
  }

  @Test
  void aWiderLimitIsNeverMetLater() {
    heading(31.4, 26, 700);
    e.models = Evidences.models(0.06);
    double before = Double.POSITIVE_INFINITY;
    for (double limit = 0.004; limit < 0.05; limit *= 1.1) {
      Ahead ahead = ahead(limits(limit, 0.10), 0);
      assertThat(ahead.expected()).as("limit %s", limit).isLessThanOrEqualTo(before + 2);
      before = ahead.expected();
    }
    before = Double.POSITIVE_INFINITY;
    for (double limit = 0.04; limit < 1; limit *= 1.1) {
      Ahead ahead = ahead(limits(0.05, limit), 0);
      assertThat(ahead.expected()).as("limit %s", limit).isLessThanOrEqualTo(before + 1e-9);
      before = ahead.expected();
    }
  }

  @Test
  void stillnessAndTheHoldTakeTheirTime() {
    heading(31.0, 31.0, 700);
    e.movedS = e.tS - 10;
    assertThat(ahead(Limits.DEFAULT, 60).expected()).isEqualTo(50, Offset.offset(1e-9));
    e.turnedS = e.tS - 30;
    assertThat(ahead(Limits.DEFAULT, 0).expected()).isEqualTo(210, Offset.offset(1e-9));
  }

  @Test
  void aPlateauOutsideTheBandIsNeverReady() {
    heading(27, 25, 700);
    Ahead ahead = ahead(Limits.DEFAULT, 0);
    assertThat(ahead.expected()).isNaN();
    assertThat(ahead.never()).isGreaterThan(0.9);
  }

  @Test
  void theSameEvidenceGivesTheSameTime() {
    heading(31.4, 26, 700);
    assertThat(ahead(Limits.DEFAULT, 0)).isEqualTo(ahead(Limits.DEFAULT, 0));
  }
}

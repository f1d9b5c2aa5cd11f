package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.readiness.estimator.TostInterval;

/** The line of advice of each state. */
class AdviceTest {
  private final Evidences e = new Evidences();

  private String of(State state) {
    Evidence evidence = e.make();
    return new Advice(Limits.DEFAULT)
        .of(state, evidence, new Conditions(Limits.DEFAULT).list(evidence));
  }

  @Test
  void aSilentOneIsToBeLookedAt() {
    assertThat(of(State.SILENT)).isEqualTo(Readiness.SILENT_ADVICE);
  }

  @Test
  void aHotOneIsToBeUncovered() {
    e.hotReason = "46.0 °C is over 45.0 °C";
    assertThat(of(State.HOT)).startsWith("uncover it now").endsWith(e.hotReason);
  }

  @Test
  void aMovedOneIsToBeLeftStill() {
    assertThat(of(State.DISTURBED)).isEqualTo("moved: leave it still for 60 s");
    e.endlessTurn = "its z axis reads 75 °/s without a rest";
    assertThat(of(State.DISTURBED))
        .isEqualTo(
            "can't say: its z axis reads 75 °/s without a rest; look at the scale of its lines,"
                + " then at the unit");
  }

  @Test
  void aReadyOneSaysHowFarItsWorstAxisMayShift() {
    e.shift[1] = TostInterval.about(-0.004, 0.003);
    assertThat(of(State.READY))
        .isEqualTo("calibrate it now: shift 0.004 ± 0.003 of 0.010 °/s in the next 3 min");
    e.shift[1] = TostInterval.about(-0.006, 0.0001);
    assertThat(of(State.READY)).contains("0.006 ± under 0.001 of");
    e.shift = null;
    assertThat(of(State.READY)).isEqualTo("calibrate it now");
  }

  @Test
  void anUndecidedOneSaysWhatKeepsItFromADecision() {
    e.shift = Evidences.shift(0.001, 0.0204);
    assertThat(of(State.UNDECIDED)).isEqualTo("can't say: its noise hides what the limit asks");
    e.rate = TostInterval.about(0.01, 0.11);
    assertThat(of(State.UNDECIDED))
        .isEqualTo("can't say: its thermometer is too coarse to show when it has settled");
    e.rate = null;
    assertThat(of(State.UNDECIDED)).isEqualTo("can't say yet: less than a minute of temperatures");
    e.shift = null;
    assertThat(of(State.UNDECIDED))
        .isEqualTo("can't say yet: two minutes of lying still are needed first");
    e.correctedInside = "its firmware corrects the rates";
    assertThat(of(State.UNDECIDED))
        .isEqualTo(
            "can't say: its firmware corrects the rates; let it print its raw rates if it can");
    e.tooSlow = true;
    assertThat(of(State.UNDECIDED)).contains("too slow to see motion, send five in ten seconds");
    e.rates = false;
    assertThat(of(State.UNDECIDED)).isEqualTo("can't say: its lines carry no rates");
  }

  @Test
  void aSoakingOneWaitsForTheFirstConditionThatIsNotMetWithoutFiguresNobodyActsUpon() {
    assertThat(of(State.SOAKING)).isEqualTo("waits: all conditions must hold for a minute");
    e.shift = Evidences.shift(0.02, 0.001);
    assertThat(of(State.SOAKING)).isEqualTo("waits: for its bias to settle");
    e.rate = TostInterval.about(0.3, 0.02);
    assertThat(of(State.SOAKING)).isEqualTo("waits: for its temperature to settle");
    e.rate = null;
    assertThat(of(State.SOAKING))
        .as("where nothing is known there is a reason and no figure")
        .isEqualTo("waits: for its temperature to settle, less than a minute of temperatures");
    e.rate = TostInterval.about(0.01, 0.02);
    e.temperatureC = 27.9;
    assertThat(of(State.SOAKING)).isEqualTo("waits: below the band by 0.1 °C");
    e.gapS = 7;
    assertThat(of(State.SOAKING))
        .isEqualTo("waits: for its lines, a gap of 7 s within the last minute");
  }

  @Test
  void whatIsNearUseOrDwellsIsNoReasonToTell() {
    e.nearUseDegPerMin = Double.NaN;
    assertThat(of(State.SOAKING)).isEqualTo("waits: all conditions must hold for a minute");
  }

  @Test
  void aStalledOneSaysWhereItLevelsOffAndWhatToDoAboutIt() {
    e.temperatureC = 25;
    e.relaxation = Evidences.relaxation(26, 25, 700);
    assertThat(of(State.STALLED))
        .matches("will level off at 2[56]\\.\\d ± \\d\\.\\d °C: add cover or move it inwards");
    e.temperatureC = 36;
    e.relaxation = Evidences.relaxation(35, 36, 700);
    assertThat(of(State.STALLED)).startsWith("will level off").endsWith("take some cover off");
    e.relaxation = Evidences.relaxation(50, 40, 700);
    assertThat(of(State.STALLED))
        .startsWith("uncover it soon: it heads for ")
        .endsWith("over the 45.0 °C that count as hot");
    e.rate = null;
    assertThat(of(State.STALLED)).isEqualTo("will not be ready as it lies: take some cover off");
  }

  @ParameterizedTest
  @CsvSource({
    "WARMING, 25.5, below the band by 2.5 °C",
    "WARMING, 27.96, it is just entering the band",
    "COOLING, 25.5, 'not warming: below the band by 2.5 °C, warm or cover it'",
    "COOLING, 27.5, 'it is falling out of the band, cover it again'",
    "COOLING, 29, 'it is falling out of the band, cover it again'",
    "COOLING, 36.2, above the band by 2.2 °C"
  })
  void outsideTheBandItSaysByHowMuch(State state, double celsius, String words) {
    e.temperatureC = celsius;
    assertThat(of(state)).isEqualTo(words);
  }

  @Test
  void aBeginningSaysWhetherItWaitsOrCannotSay() {
    assertThat(of(State.STARTING)).isEqualTo("too little heard yet: a minute is needed");
    e.rate = null;
    assertThat(of(State.STARTING)).isEqualTo("can't say: less than a minute of temperatures");
    e.tS = 60;
    assertThat(of(State.STARTING)).isEqualTo("too little heard yet: a minute is needed");
  }
}

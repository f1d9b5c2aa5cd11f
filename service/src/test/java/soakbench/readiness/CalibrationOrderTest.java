package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.readiness.Condition.Found;
import soakbench.readiness.Condition.Wanted;

class CalibrationOrderTest {
  private static final double LIMIT_DPS = 0.01;

  @Test
  void whoDoesNotCallHasNoPlace() {
    Map<String, Integer> order =
        CalibrationOrder.of(
            List.of(ready("A", 0.001, 50.0, 0), ready("B", 0.001, 50.0, 0)),
            v -> v.tracker().equals("A") ? NextStep.KEEP : null);
    assertThat(order).isEmpty();
  }

  @Test
  void heatGoesFirstAndWhatIsHotBeforeWhatHeadsForIt() {
    Readiness ready = ready("A", 0.009, 5.0, 1000);
    Readiness heading = hot("B", Heat.Kind.HEADING_HOT, 900);
    Readiness hot = hot("C", Heat.Kind.HOT, 10);
    Readiness hotForLonger = hot("D", Heat.Kind.FAST_RISE, 20);
    assertThat(order(ready, heading, hot, hotForLonger)).containsExactly("D", "C", "B", "A");
  }

  @Test
  void aShiftThatTakesMoreThanHalfOfItsLimitGoesFirst() {
    assertThat(order(ready("A", 0.0049, 50.0, 0), ready("B", 0.0051, 90.0, 0)))
        .containsExactly("B", "A");
    assertThat(order(ready("A", 0.0001, 50.0, 0), ready("B", 0.0049, 50.0, 0)))
        .as("below, how much it is makes no difference")
        .containsExactly("A", "B");
    assertThat(order(ready("A", 0.001, 50.0, 0), ready("B", -0.006, 50.0, 0)))
        .as("whichever way it goes")
        .containsExactly("B", "A");
  }

  @Test
  void thenWhoMayLieOpenForTheShortestTimeInStepsOfTenSeconds() {
    assertThat(order(ready("A", 0.001, 61.0, 0), ready("B", 0.001, 59.0, 0)))
        .containsExactly("B", "A");
    assertThat(order(ready("A", 0.001, 58.0, 0), ready("B", 0.001, 51.0, 0)))
        .as("noise of some seconds changes nothing")
        .containsExactly("A", "B");
    assertThat(order(ready("A", 0.001, null, 0), ready("B", 0.001, 600.0, 0)))
        .as("what is not known to be lost comes last")
        .containsExactly("B", "A");
  }

  @Test
  void thenWhoHasBeenReadyForLongestAndThenById() {
    assertThat(order(ready("A", 0.001, 50.0, 10), ready("B", 0.001, 52.0, 11)))
        .containsExactly("B", "A");
    assertThat(order(ready("B", 0.001, 50.0, 10), ready("A", 0.001, 52.0, 10)))
        .containsExactly("A", "B");
  }

  private static List<String> order(Readiness... verdicts) {
    return List.copyOf(
        CalibrationOrder.of(Arrays.asList(verdicts), v -> NextStep.of(v, null, false)).keySet());
  }

  private static Readiness hot(String tracker, Heat.Kind kind, long forS) {
    Heat heat = new Heat(kind, 46, 45, "46 is over 45", null);
    return since(GivenVerdicts.of(tracker, State.HOT, 21_600, 3600, heat), forS, List.of(), null);
  }

  /** With a shift of so much, deg/s, that is ready for so long and may lie open for so long, s. */
  private static Readiness ready(String tracker, double shiftDps, Double openS, long forS) {
    Condition shift =
        new Condition(
            "shift",
            true,
            new Found(shiftDps / 2, Math.min(0, shiftDps), Math.max(0, shiftDps)),
            Wanted.within(LIMIT_DPS),
            "deg/s",
            null);
    return since(GivenVerdicts.of(tracker, State.READY), forS, List.of(shift), openS);
  }

  private static Readiness since(Readiness v, long forS, List<Condition> conditions, Double openS) {
    Estimate time =
        openS == null ? Estimate.unknown("not asked") : Estimate.of(openS, 1, openS, 2 * openS);
    return new Readiness(
        v.tracker(),
        v.soak(),
        new Readiness.Standing(
            v.state(), v.asOfUs() - forS * 1_000_000, null, null, conditions, v.advice()),
        v.figures(),
        v.readyTime(),
        new Unwrapped(time, v.unwrapped().spreadDps(), null, null),
        v.heat());
  }
}

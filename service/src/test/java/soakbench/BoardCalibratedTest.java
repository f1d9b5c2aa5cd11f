package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/** What the board asks for of a ready tracker that was calibrated, in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardCalibratedTest extends OnABoard {
  private static final Instant START = RunningService.START;

  /** Ready since five minutes: so they become after 856 s. */
  private static final int READY_S = 1200;

  private static final String ASKS = "Calibrate it now.";

  @Test
  void whatIsCalibratedAndCheckedIsAskedForNoMoreAndWhatWaitsForItsCheckIsLeftAlone()
      throws Exception {
    ready("Kept-1", "raw");
    openBoard();
    until("ready", ASKS);
    await().atMost(PATIENCE).until(() -> filled());
    assertThat(chromium.text("#headline")).isEqualTo("Next: Unit Kept-1");

    service.calibratedNow("Kept-1");
    until("being checked", "Calibrated: leave it alone until the check is done.");
    assertThat(chromium.text("#headline")).isEqualTo("None ready, 1 being checked");
    assertThat(chromium.text("#todo"))
        .isEqualTo("Leave Unit Kept-1 alone until the check is done.");

    lie("Kept-1", READY_S, 80);
    untilChecked("keep", "Calibrated and checked: nothing is left to do.");
    assertThat(chromium.text("#headline")).isEqualTo("1 calibrated");
    assertThat(chromium.text("#todo")).isEqualTo("Nothing is left to calibrate.");
    assertThat(chromium.driver().getTitle()).startsWith("0 of 1 ready");
    assertThat(chromium.text(".state")).isEqualTo("calibratedkept");
    assertThat(filled()).isFalse();
    openBoard();
    until("calibrated", "Calibrated and checked: nothing is left to do.");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aCheckThatCanNotTellLeavesTheDecisionToTheOperator() throws Exception {
    ready("Open-1", "unknown");
    service.calibratedNow("Open-1");
    lie("Open-1", READY_S, 80);
    openBoard();
    untilChecked("unknown", "Calibrated, but the check can’t tell whether it took");
    assertThat(chromium.text("#headline")).isEqualTo("None ready, 1 to decide");
    assertThat(chromium.text("#todo")).startsWith("The check can’t tell of Unit Open-1: ");
    chromium.one(".tile [aria-label^='Checks']").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(chromium.text("#checks .check"))
        .as("a reason that all figures share")
        .containsOnlyOnce("set it in the roster");
  }

  /** It lay at 30 degC all the while, so nothing tells what it does at the 31 of use. */
  @Test
  void whatIsGoodNowAndNotKnownInUseIsNoKeepAndSaysWhy() throws Exception {
    service.rates("Now-1", "Unit Now-1", "raw");
    service.post(WarmUps.lines("Now-1", START, 0, READY_S, 30, 30));
    service.calibratedNow("Now-1");
    service.post(WarmUps.lines("Now-1", START, READY_S, READY_S + 80, 30, 30));
    openBoard();
    untilChecked("unknown", "Calibrated and good now, but not known well enough in use:");
    assertThat(chromium.text(".calibration-text"))
        .matches(
            "Calibrated .*: good now, \\d\\.\\d ± \\d\\.\\d °/min left;"
                + " in use not known, no curve: .+");
    assertThat(chromium.text("#headline")).isEqualTo("None ready, 1 to decide");
    chromium.one(".tile [aria-label^='Checks']").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(chromium.text("#checks .check-verdict")).startsWith("good now, ");
    service.silence();
    until("taken off?", "Calibrated, then nothing more heard.");
    assertThat(chromium.all(".tile .taken-off:not([hidden]) button")).hasSize(1);
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aTrackerThatWasMovedSinceItsCheckIsAskedForAgain() throws Exception {
    ready("Moved-1", "raw");
    service.calibratedNow("Moved-1");
    lie("Moved-1", READY_S, 80);
    openBoard();
    untilChecked("keep", "Calibrated and checked");
    service.post(WarmUps.moved("Moved-1", START, READY_S + 80, READY_S + 90, 20, 31));
    until("disturbed", "");
    lie("Moved-1", READY_S + 90, 300);
    until("ready", "Moved since its check. " + ASKS);
    assertThat(chromium.text("#headline")).isEqualTo("Next: Unit Moved-1");
    assertThat(chromium.text(".calibration-text"))
        .matches("Before it was moved: calibrated .*, kept\\.");
  }

  @Test
  void aNewSoakAsksAgainWhateverTheOneBeforeShowed() throws Exception {
    ready("Soak-1", "raw");
    service.calibratedNow("Soak-1");
    lie("Soak-1", READY_S, 80);
    openBoard();
    untilChecked("keep", "Calibrated and checked");
    // Silent for over ten minutes, and warm all the same.
    lie("Soak-1", READY_S + 800, 900);
    until("ready", ASKS);
    assertThat(chromium.text(".calibration-text"))
        .as("nothing speaks against calibrating it now")
        .matches("Before this soak: calibrated .*, kept\\.");
    assertThat(chromium.text("#headline")).isEqualTo("Next: Unit Soak-1");
    assertThat(
            chromium.all(".tile button").stream()
                .filter(b -> b.isDisplayed())
                .map(b -> b.getText())
                .toList())
        .as("yesterday's is not undone from here")
        .containsExactly("Calibrated now", "Checks");
  }

  @Test
  void twelveTilesEachWithACheckFitABenchScreen() throws Exception {
    for (int i = 0; i < 12; i++) {
      String id = "Fit-" + i;
      service.roster(id, "Unit " + i);
      service.post(WarmUps.lines(id, START, 20 * i, 240, 20 + i, 24 + 2 * i));
      service.calibratedNow(id);
      service.post(WarmUps.lines(id, START, 240, 320, 20 + i, 24 + 2 * i));
    }
    openBoard();
    await()
        .atMost(PATIENCE)
        .until(
            () -> {
              service.findCalibrations();
              return chromium.all(".calibration[data-outcome='unknown']").size() == 12;
            });
    assertThat(chromium.<Long>ask("document.documentElement.scrollHeight"))
        .as("notices %s, alarms %s", chromium.texts(".notice"), chromium.texts(".tile"))
        .isLessThanOrEqualTo(1080);
  }

  @Test
  void aCheckThatSaysDoItAgainKeepsAskingAndIsDrawnBesideTheOneBefore() throws Exception {
    ready("Chart-1", "raw");
    service.calibratedNow("Chart-1");
    lie("Chart-1", READY_S, 80);
    openBoard();
    untilChecked("keep", "");
    chromium.one(".tile [aria-label^='Checks']").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(chromium.all(".checks-chart")).as("one is no course").isEmpty();

    service.post(WarmUps.moved("Chart-1", START, READY_S + 400, READY_S + 420, 20, 31));
    service.calibratedNow("Chart-1");
    service.post(WarmUps.offset("Chart-1", START, READY_S + 420, READY_S + 720, 20, 31));
    untilChecked("do_again", "");
    await().atMost(PATIENCE).until(() -> chromium.all(".checks-chart .interval").size() == 2);
    assertThat(chromium.one(".checks-chart").getAttribute("aria-label"))
        .matches(
            "Left after each of 2 calibrations, the oldest first, °/min:"
                + " 0\\.\\d \\(keep\\), 6\\.\\d \\(do it again\\)\\. 0\\.9 are allowed\\.");
    List<Double> drawn =
        chromium.ask(
            "['.limit', '.interval'].flatMap(s => [...document.querySelectorAll('.checks-chart ' +"
                + " s)].map(e => (Number(e.getAttribute('y1')) + Number(e.getAttribute('y2'))) /"
                + " 2.0 + 0.001))");
    assertThat(drawn.get(1)).as("what is kept lies under the limit").isGreaterThan(drawn.get(0));
    assertThat(drawn.get(2)).isLessThan(drawn.get(0));
    assertThat(chromium.text(".checks-chart")).contains("0.9 allowed", "6.");
    await().atMost(PATIENCE).until(() -> chromium.text(".advice").startsWith(ASKS));
    assertThat(chromium.text("#headline")).isEqualTo("Next: Unit Chart-1");
    await().atMost(PATIENCE).until(() -> filled());
    assertThat(chromium.complaints()).isEmpty();
  }

  /** A tracker that has become ready and lies still. */
  private void ready(String id, String rates) throws Exception {
    service.rates(id, "Unit " + id, rates);
    service.post(WarmUps.lines(id, START, 0, READY_S, 20, 31));
  }

  private void lie(String id, int fromS, int forS) throws Exception {
    service.post(WarmUps.lines(id, START, fromS, fromS + forS, 20, 31));
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }

  /** What is under way is looked at again every two seconds, as the program does. */
  private void untilChecked(String outcome, String advice) {
    await()
        .atMost(PATIENCE)
        .until(
            () -> {
              service.findCalibrations();
              return chromium.all(".calibration[data-outcome='" + outcome + "']").size() == 1;
            });
    await().atMost(PATIENCE).until(() -> chromium.text(".advice").startsWith(advice));
  }

  private static void until(String word, String advice) {
    await()
        .atMost(PATIENCE)
        .until(
            () ->
                chromium.texts(".word").contains(word)
                    && chromium.text(".advice").startsWith(advice));
  }

  /** Whether the tile is filled, which calls somebody across the room. */
  private static boolean filled() {
    String fill = chromium.one(".tile").getCssValue("background-color");
    return fill.equals(chromium.one(".tile").getCssValue("border-top-color"));
  }
}

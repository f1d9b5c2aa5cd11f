package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.demo.unit.Heating;

/** Calibrations on the board, in a real browser, of simulated handlings sent to a real service. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardCalibrationTest extends OnABoard {
  private static final String ANY_ID = "any-tracker";
  private static final Map<String, String> SIMULATED = new HashMap<>();

  /** A tracker that is calibrated on six sides; each seed is another one. */
  private void calibrated(String id, long seed, boolean accelerometer, boolean reboot)
      throws Exception {
    service.rates(id, "Unit " + id, "raw");
    Recipe recipe =
        HandlingRuns.of(Handling.Kind.SIX_POSES, seed, accelerometer, reboot, Correction.NONE);
    // The same unit handled in the same way says the same, so it is simulated once.
    String how = seed + "/" + accelerometer + "/" + reboot;
    service.post(SIMULATED.computeIfAbsent(how, any -> lines(ANY_ID, recipe)).replace(ANY_ID, id));
  }

  private static String lines(String id, Recipe recipe) {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer line = new LineBuffer();
    StringBuilder all = new StringBuilder();
    while (tracker.nextUs() != Long.MAX_VALUE) {
      tracker.next(line);
      all.append(new String(line.bytes(), 0, line.length(), StandardCharsets.UTF_8));
      line.clear();
    }
    return all.toString().replace("\"" + recipe.unit().id() + "\"", "\"" + id + "\"");
  }

  @Test
  void aTileTellsItsCalibrationAndWhatTheCheckSaysWithoutReloading() throws Exception {
    calibrated("Seen-1", 11, true, true);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 1);
    chromium.driver().executeScript("window.neverReloaded = true");
    assertThat(shown(".calibration-text")).isZero();
    service.findCalibrations();
    await().atMost(PATIENCE).until(() -> shown(".calibration-text") == 1);
    assertThat(chromium.text(".calibration-text"))
        .matches("Calibrated .*at \\d+\\.\\d °C: (keep|do it again, .+|not known, .+)");
    assertThat(chromium.all(".calibration-text svg")).hasSize(1);
    assertThat(chromium.<Boolean>ask("window.neverReloaded === true")).isTrue();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void theKeyboardAnswersAQuestionWithYesAndTheCheckFollows() throws Exception {
    asked("Ask-1");
    WebElement yes = button("Yes");
    assertThat(yes.getAttribute("aria-label")).isEqualTo("Yes, Unit Ask-1 was calibrated");
    assertThat(button("No").getAttribute("aria-label"))
        .isEqualTo("No, Unit Ask-1 was not calibrated");
    // The event that takes the question off the page comes before the answer.
    chromium
        .driver()
        .executeScript(
            "window.fetch = (f => (url, o) => o?.method === 'POST'"
                + " ? f(url, o).then(a => new Promise(r => setTimeout(() => r(a), 1000)))"
                + " : f(url, o))(window.fetch)");
    assertThat(yes.getRect().getHeight()).isGreaterThanOrEqualTo(44);
    assertThat(yes.getRect().getWidth()).isGreaterThanOrEqualTo(44);
    yes.sendKeys(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> outcome().matches("keep|do_again|unknown"));
    assertThat(service.get("api/trackers/Ask-1/calibrations")).contains("\"status\":\"mark\"");
    assertThat(chromium.<String>ask("document.activeElement.className")).isEqualTo("tile");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aQuestionAnsweredWithNoGoesAwayAndCanBeBroughtBack() throws Exception {
    asked("Ask-2");
    button("No").click();
    await().atMost(PATIENCE).until(() -> shown(".calibration-text") == 0);
    assertThat(service.get("api/trackers/Ask-2/calibrations")).contains("\"status\":\"undone\"");
    button("Checks").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(chromium.text("#checks .check-verdict")).isEqualTo("none, somebody said");
    chromium.one("#checks .check-acts button").click();
    await().atMost(PATIENCE).until(() -> outcome().matches("keep|do_again|unknown"));
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aNoOfATrackerThatIsTooColdCanBeTakenBackOnAnyPageThatIsOpenedLater() throws Exception {
    Recipe warm = HandlingRuns.of(Handling.Kind.SIX_POSES, 24, false, true, Correction.NONE);
    service.rates("Cold-1", "Unit Cold-1", "raw");
    service.post(lines("Cold-1", in(Heating.steady(18, 22, 1, 20, 900), warm)));
    service.findCalibrations();
    openBoard();
    await().atMost(PATIENCE).until(() -> outcome().equals("question"));
    assertThat(chromium.texts(".word")).isSubsetOf("warming", "stalled");
    button("No").click();
    await().atMost(PATIENCE).until(() -> shown(".calibration-text") == 0);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 1);
    await().atMost(PATIENCE).until(() -> shown(".tile [aria-label^=\"Checks\"]") == 1);
    button("Checks").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    chromium.one("#checks .check-acts button").click();
    await().atMost(PATIENCE).until(() -> outcome().matches("keep|do_again|unknown"));
    assertThat(service.get("api/trackers/Cold-1/calibrations")).contains("\"status\":\"mark\"");
  }

  private static Recipe in(Heating heating, Recipe r) {
    return r.with(heating);
  }

  /** A tracker without an accelerometer that was switched off and on shows a question. */
  private void asked(String id) throws Exception {
    calibrated(id, 24, false, true);
    service.findCalibrations();
    openBoard();
    await().atMost(PATIENCE).until(() -> outcome().equals("question"));
    assertThat(chromium.text(".calibration-text")).startsWith("Calibrated? Lifted ");
  }

  @Test
  void aMarkIsUndoneFromTheTileAndARefusalIsSaid() throws Exception {
    calibrated("Undo-1", 11, true, true);
    service.findCalibrations();
    openBoard();
    await().atMost(PATIENCE).until(() -> outcome().matches("keep|do_again|unknown"));
    // Somebody else was quicker, and this page has not heard of it.
    chromium
        .driver()
        .executeScript(
            "window.fetch = (f => (url, o) => o?.method === 'DELETE'"
                + " ? f(url, o).then(() => f(url, o)) : f(url, o))(window.fetch)");
    button("Undo").click();
    await().atMost(PATIENCE).until(() -> shown(".calibration-refused") == 1);
    assertThat(chromium.text(".calibration-refused"))
        .startsWith("Not noted: the service answered 404, Tracker Undo-1 has no calibration mark");
    await().atMost(PATIENCE).until(() -> shown(".calibration-text") == 0);
    assertThat(service.get("api/calibrations")).doesNotContain("Undo-1");
  }

  @Test
  void theChecksOfATrackerAreListedWithTheirFigures() throws Exception {
    calibrated("List-1", 11, true, true);
    service.findCalibrations();
    openBoard();
    await().atMost(PATIENCE).until(() -> outcome().matches("keep|do_again|unknown"));
    button("Checks").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(chromium.text("#checks h2")).isEqualTo("Calibrations of Unit List-1");
    assertThat(chromium.text("#checks h3")).contains(" °C, ", " before");
    assertThat(chromium.text("#checks .check-figures"))
        .containsPattern("left, worst axis−?\\d+\\.\\d\\d \\(−?[\\d.]+ to −?[\\d.]+\\) °/min")
        .contains("on 6 sides", "switched off and on");
    chromium.press(Keys.ESCAPE);
    await()
        .atMost(PATIENCE)
        .until(() -> !chromium.<Boolean>ask("document.querySelector('#checks').open"));
    assertThat(chromium.<String>ask("document.activeElement.textContent")).isEqualTo("Checks");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void questionsAndListsFitAScreenOfWhateverWidth() throws Exception {
    calibrated("Fit-1", 11, true, true);
    calibrated("Fit-2", 24, false, true);
    service.findCalibrations();
    for (int width : new int[] {390, 1366, 1920}) {
      chromium.resize(width, 900);
      chromium.driver().get("about:blank");
      fitsAScreenOf(width);
    }
  }

  private void fitsAScreenOf(int width) {
    openBoard();
    await().atMost(PATIENCE).until(() -> outcomes().size() == 2 && outcomes().contains("question"));
    assertThat(chromium.<Long>ask("document.documentElement.scrollWidth"))
        .isLessThanOrEqualTo(width);
    chromium
        .driver()
        .executeScript("document.querySelector('.tile [aria-label^=\"Checks\"]').click()");
    await().atMost(PATIENCE).until(() -> chromium.all("#checks .check").size() == 1);
    assertThat(
            chromium.<Boolean>ask(
                "document.querySelector('#checks').scrollWidth <="
                    + " document.querySelector('#checks').clientWidth"))
        .isTrue();
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }

  /** What became of the calibration of the only tile that shows one. */
  private static String outcome() {
    List<String> all = outcomes();
    return all.size() == 1 ? all.get(0) : all.toString();
  }

  private static List<String> outcomes() {
    return chromium.ask(
        "[...document.querySelectorAll('.calibration')].map(e => e.dataset.outcome).filter(o =>"
            + " o)");
  }

  private static WebElement button(String words) {
    return chromium.all(".tile button").stream()
        .filter(b -> b.isDisplayed() && b.getText().equals(words))
        .findFirst()
        .orElseThrow();
  }

  /** How many such elements are on the screen. */
  private static int shown(String selector) {
    return (int) chromium.all(selector).stream().filter(WebElement::isDisplayed).count();
  }
}

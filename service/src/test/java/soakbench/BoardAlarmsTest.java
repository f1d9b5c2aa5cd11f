package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/** Alarms on the board, in a real browser: heat is large, and nothing buries the trackers. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardAlarmsTest extends OnABoard {
  private static final Instant START = RunningService.START;
  private static final int ONE_LINE_PX = 44;

  @Test
  void sixteenAlarmsWithoutHeatTakeOneLineAndLeaveTheTilesOnTheScreen() throws Exception {
    few("Many", 12);
    sixteen();
    openBoard();
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts("#others summary").toString().contains("16 alarms"));
    oneLineOn(1366, 768);
    oneLineOn(1920, 1080);
    oneLineOn(390, 844);
    assertThat(chromium.complaints()).isEmpty();
  }

  private static void oneLineOn(int width, int height) {
    chromium.resize(width, height);
    assertThat(px("#alarms", "height")).isLessThanOrEqualTo(ONE_LINE_PX);
    assertThat(px(".tile", "bottom")).as("the first tile").isLessThanOrEqualTo(height);
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.<Long>ask("document.documentElement.scrollWidth") <= width);
  }

  @Test
  void heatIsOneLargeBlockAboveTheLineAndTheFirstTilesStillFitTheScreen() throws Exception {
    chromium.resize(1366, 768);
    few("Heat", 2);
    service.roster("Heat-hot", "Kestrel");
    service.post(WarmUps.lines("Heat-hot", START, 0, 600, 30, 50));
    sixteen();
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 1);
    assertThat(chromium.text("#heat .alarm-what")).isEqualTo("Hot: Kestrel, slot 3");
    assertThat(fontPx("#heat .alarm-what")).isGreaterThanOrEqualTo(36);
    assertThat(px("#heat", "height")).isLessThanOrEqualTo(150);
    assertThat(px("#alarms", "height") - px("#heat", "height")).isLessThanOrEqualTo(ONE_LINE_PX);
    assertThat(px(".tile", "bottom")).as("the first tile").isLessThanOrEqualTo(768);
  }

  @Test
  void aDozenThatAreHotAreAllNamedAndLeaveRoomForTheBoard() throws Exception {
    chromium.resize(1366, 768);
    few("Dozen", 2);
    for (int i = 0; i < 12; i++) {
      service.alarm(cause(Kind.HOT, Severity.SEVERE, "Dozen-" + i));
      service.alarm(cause(Kind.FAST_RISE, Severity.SEVERE, "Dozen-" + i));
    }
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 3);
    assertThat(chromium.text(".alarm-more")).startsWith("And 9 more: Hot: Dozen-3; Hot: Dozen-4");
    assertThat(chromium.text("#heat > button")).isEqualTo("Seen, all 12");
    assertThat(px("#trackers", "top")).isLessThan(600);
    chromium.one("#heat > button").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").isEmpty());
    assertThat(chromium.text("#others summary")).contains("24 alarms");
  }

  @Test
  void theKeyboardAcknowledgesHeatAndIsNotLostWithItsButton() throws Exception {
    service.roster("Bar-2", "Oven <b>2</b>");
    service.post(WarmUps.lines("Bar-2", START, 0, 600, 30, 50));
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 1);
    assertThat(chromium.one("#heat").getAttribute("role")).isEqualTo("alert");
    assertThat(chromium.text("#heat .alarm-what")).isEqualTo("Hot: Oven <b>2</b>, slot 3");
    assertThat(chromium.text("#heat .alarm-why")).contains("is over 45.0 °C", "Uncover it now");
    assertThat(chromium.text("#heat .alarm-why")).doesNotContain("Bar-2");
    assertThat(fontPx("#heat .alarm-what")).as("read across the room").isGreaterThanOrEqualTo(48);
    assertThat(chromium.one("#heat .alarm").getCssValue("background-color"))
        .isEqualTo(chromium.one(".tile").getCssValue("background-color"));
    // The head's own buttons may come before it.
    for (int i = 0; i < 3 && !"Seen: Hot: Oven <b>2</b>, slot 3".equals(focusedLabel()); i++) {
      tabsTo("BUTTON");
    }
    assertThat(focusedLabel()).isEqualTo("Seen: Hot: Oven <b>2</b>, slot 3");
    chromium.press(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").isEmpty());
    assertThat(chromium.text("#others summary")).contains("1 alarm Hot: Oven <b>2</b>");
    assertThat(chromium.<String>ask("document.activeElement.tagName")).isEqualTo("SUMMARY");
    chromium.press(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.one("#others li").isDisplayed());
    assertThat(chromium.text("#others .alarm-why")).contains("seen ");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void heatThatIsOverStaysUntilSeenAndWhatElseEndedIsOnlyInTheList() throws Exception {
    few("Over", 2);
    service.alarm(cause(Kind.HOT, Severity.SEVERE, "Over-1"));
    service.alarm(cause(Kind.SPOOL_FILLING, Severity.WARNING, null));
    openBoard();
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts("#others summary").toString().contains("1 alarm"));
    service.alarmOver(Kind.HOT, "Over-1");
    service.alarmOver(Kind.SPOOL_FILLING, null);
    await().atMost(PATIENCE).until(() -> !chromium.one("#others").isDisplayed());
    assertThat(chromium.text("#heat .alarm-what")).isEqualTo("Hot: Over-1 (over)");
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 1);
    chromium.one("#heat button:not([hidden])").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").isEmpty());
    assertThat(chromium.<Long>ask("document.getElementById('alarms').offsetHeight")).isZero();
    chromium.one("#ended-alarms summary").click();
    await().atMost(PATIENCE).until(() -> chromium.all(".ended li").size() == 2);
    assertThat(chromium.texts(".ended li")).anyMatch(line -> line.startsWith("Spool filling"));
    assertThat(chromium.texts(".ended li")).anyMatch(line -> line.matches("Hot: Over-1 .*seen .*"));
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aSilentTrackerThatWasTakenOffIsSaidSoOnItsTileOrInItsAlarm() throws Exception {
    few("Off", 3);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 3);
    assertThat(chromium.all(".taken-off:not([hidden])")).isEmpty();
    service.silence();
    await().atMost(PATIENCE).until(() -> chromium.all(".taken-off:not([hidden])").size() == 3);
    chromium.one("#tracker-Off-1 .taken-off button").click();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 2);
    assertThat(chromium.all("#tracker-Off-1")).isEmpty();
    assertThat(chromium.<String>ask("document.activeElement.id")).isEqualTo("trackers");
    openBoard();
    // Not before the first answers are there: one that is older than the alarm would hide it.
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 2);
    service.alarm(cause(Kind.SILENT, Severity.WARNING, "Off-2"));
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts("#others summary").toString().contains("Silent: Off-2"));
    tabsTo("SUMMARY");
    chromium.press(Keys.ENTER);
    tabs(1);
    assertThat(focusedLabel()).isEqualTo("Taken off: Off-2");
    chromium.press(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.all("#tracker-Off-2").isEmpty());
    String soaks = service.get("api/soaks?tracker=Off-2");
    assertThat(soaks).contains("taken_off");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void whoHearsThePageIsToldOfOtherAlarmsOnceAndOfOneRowOfHeatAlone() throws Exception {
    few("Heard", 3);
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() == 3);
    service.alarm(cause(Kind.SPOOL_FILLING, Severity.WARNING, null));
    await().atMost(PATIENCE).until(() -> spoken().contains("Alarm: Spool filling."));
    service.alarm(cause(Kind.SILENT, Severity.WARNING, "Heard-1"));
    service.alarm(cause(Kind.HOT, Severity.SEVERE, "Heard-2"));
    await().atMost(PATIENCE).until(() -> spoken().contains("Alarm: Silent: Heard-1."));
    assertThat(spoken()).doesNotContain("Spool filling").doesNotContain("Heard-2");
    assertThat(chromium.one("#heat").getAttribute("aria-atomic")).isEqualTo("false");
    assertThat(chromium.all("#others [aria-live]")).isEmpty();
  }

  private static String spoken() {
    return chromium.text("#spoken");
  }

  private void few(String prefix, int count) throws Exception {
    for (int i = 0; i < count; i++) {
      service.post(WarmUps.lines(prefix + "-" + i, START, 0, 60, 24, 31));
    }
  }

  /** What ten minutes of a rack with nobody at the board may leave, and more. */
  private void sixteen() {
    for (int i = 0; i < 13; i++) {
      service.alarm(cause(Kind.SILENT, Severity.WARNING, "Away-" + i));
    }
    service.alarm(cause(Kind.SPOOL_FILLING, Severity.WARNING, null));
    service.alarm(cause(Kind.READING_STOPPED, Severity.SEVERE, null));
    service.alarm(
        AlarmCause.ofRack(Kind.RACK_SILENT, Severity.SEVERE, "A", "Nothing is heard.", "Look."));
  }

  private static AlarmCause cause(Kind kind, Severity severity, String tracker) {
    return AlarmCause.plain(kind, severity, tracker, "It is so.", "Look at it.");
  }

  private static double px(String selector, String side) {
    await().atMost(PATIENCE).until(() -> !chromium.all(selector).isEmpty());
    Number px =
        chromium.ask("document.querySelector('" + selector + "').getBoundingClientRect()." + side);
    return px.doubleValue();
  }

  private static double fontPx(String selector) {
    return Double.parseDouble(chromium.one(selector).getCssValue("font-size").replace("px", ""));
  }

  /** On to the first such element that the keyboard reaches. */
  private static void tabsTo(String tag) {
    // The chime is a button of the header's.
    String focused = "document.activeElement.id === 'bell' ? '' : document.activeElement.tagName";
    for (int i = 0; i < 20 && (i == 0 || !chromium.<String>ask(focused).equals(tag)); i++) {
      chromium.press(Keys.TAB);
    }
    assertThat(chromium.<String>ask(focused)).isEqualTo(tag);
  }

  private static void tabs(int count) {
    for (int i = 0; i < count; i++) {
      chromium.press(Keys.TAB);
    }
  }

  private static String focusedLabel() {
    return chromium.ask("document.activeElement.getAttribute('aria-label')");
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }
}

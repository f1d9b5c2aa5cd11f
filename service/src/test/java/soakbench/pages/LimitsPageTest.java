package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import soakbench.OnABoard;
import soakbench.RunningService;
import soakbench.WarmUps;

/** The page of the limits in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class LimitsPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void otherLimitsAreTriedOnPastSoaksThenSavedThenInTheHistory() throws Exception {
    service.post(WarmUps.lines("Try-1", START, 0, 1300, 20, 31));
    open("limits");
    assertThat(chromium.text("#headline")).contains("28 to 34 °C");
    assertThat(chromium.one("#try").isEnabled()).isFalse();
    set("band_low_c", "30.9");
    assertThat(chromium.text("#count")).isEqualTo("1 limit proposed");
    assertThat(chromium.driver().getCurrentUrl()).endsWith("/limits?band_low_c=30.9");
    chromium.one("#try").click();
    await().atMost(PATIENCE).until(() -> chromium.one("#preview").isDisplayed());
    assertThat(chromium.text("#summary")).contains("Of 1 soak 1 would have been ready later");
    assertThat(chromium.text("#soaks tbody tr")).contains("Try-1", "after");
    assertThat(service.get("api/limits")).contains("\"band_low_c\":28");

    chromium.one("#save").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#said").contains("Saved"));
    assertThat(service.get("api/limits")).contains("\"band_low_c\":30.9");
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#history").contains("Operating band from: 28 °C became 30.9"));
    assertThat(chromium.text("#headline")).contains("30.9 to 34 °C");
    assertThat(chromium.driver().getCurrentUrl()).endsWith("/limits");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void soaksUnderWayAreJudgedAgainWhereThatIsWanted() throws Exception {
    service.post(WarmUps.lines("Now-1", START, 0, 300, 20, 31));
    open("limits?hot_c=40");
    chromium.one("#try").click();
    await().atMost(PATIENCE).until(() -> chromium.one("#save-now").isDisplayed());
    assertThat(chromium.text("#save-now")).contains("the soak under way");
    chromium.one("#save-now").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#said").contains("1 soak judged again"));
  }

  @Test
  void whatTheServiceRefusesIsToldAtItsFieldAndNothingIsLost() throws Exception {
    service.post(WarmUps.lines("Wrong-1", START, 0, 10, 20, 31));
    open("limits?band_low_c=35&dwell_s=90");
    chromium.one("#try").click();
    await().atMost(PATIENCE).until(() -> !chromium.text(row("band_low_c") + " .wrong").isEmpty());
    assertThat(chromium.text(row("band_low_c") + " .wrong")).contains("must be below band_high_c");
    assertThat(chromium.<String>ask("document.activeElement.id")).isEqualTo("band_low_c");
    assertThat(chromium.one("#dwell_s").getDomProperty("value")).isEqualTo("90");
    assertThat(chromium.one("#preview").isDisplayed()).isFalse();
    chromium.one("#back").click();
    assertThat(chromium.one("#band_low_c").getDomProperty("value")).isEqualTo("28");
    assertThat(chromium.texts("[data-changed]")).isEmpty();
    assertThat(chromium.complaints()).allMatch(line -> line.contains("422"));
  }

  @Test
  void withTheDatabaseAwayItSaysSoAndHowOldItIs() throws Exception {
    service.post(WarmUps.lines("Away-1", START, 0, 10, 20, 31));
    open("limits");
    database.close();
    chromium.driver().executeScript("window.dispatchEvent(new Event('online'))");
    await().atMost(PATIENCE).until(() -> !chromium.all(".notice").isEmpty());
    assertThat(chromium.text(".notice")).contains("What you see was read at", "Trying again");
    assertThat(chromium.all("main[data-old]")).hasSize(1);
  }

  private static String row(String limit) {
    return ".limit:has(#" + limit + ")";
  }

  private static void set(String limit, String value) {
    WebElement field = chromium.one("#" + limit);
    field.sendKeys(Keys.chord(Keys.CONTROL, "a"), value);
  }

  private void open(String page) {
    chromium.complaints();
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("#headline").contains("Asking"));
  }
}

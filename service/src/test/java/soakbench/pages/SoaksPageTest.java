package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import soakbench.OnABoard;
import soakbench.RunningService;
import soakbench.WarmUps;

/** The page of the soaks in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class SoaksPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void soaksAreFoundComparedAndTheBrowsersBackLeadsBack() throws Exception {
    service.post(WarmUps.lines("Lot-1", START, 0, 700, 20, 31));
    service.post(WarmUps.lines("Lot-2", START, 0, 700, 24, 30));
    service.post(WarmUps.lines("Lot-3", START, 0, 100, 24, 30));
    open("soaks");
    assertThat(chromium.text("#headline")).contains("3 under way");
    chromium.one("#tracker").sendKeys("Lot-3");
    chromium.one("#filter .act").click();
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 1);
    assertThat(chromium.driver().getCurrentUrl()).endsWith("/soaks?tracker=Lot-3");
    chromium.driver().navigate().back();
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 3);
    assertThat(chromium.one("#tracker").getDomProperty("value")).isEmpty();

    chromium.one("[data-key^='choose Lot-1']").click();
    assertThat(chromium.text("#choice-count")).contains("choose another");
    chromium.one("[data-key^='choose Lot-2']").click();
    chromium.one("#compare").click();
    await().atMost(PATIENCE).until(() -> chromium.all("#overlay .line").size() == 2);
    assertThat(chromium.texts("#overlay .name")).containsExactlyInAnyOrder("Lot-1", "Lot-2");
    assertThat(chromium.text("#figures")).contains("levels off at", "°C (", "time constants");
    assertThat(chromium.one("#overlay .band").isDisplayed()).isTrue();
    chromium.driver().navigate().back();
    await().atMost(PATIENCE).until(() -> chromium.one("#listing").isDisplayed());
    assertThat(chromium.one("[data-key^='choose Lot-1']").isSelected()).isTrue();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aSoakIsEndedOnlyAfterItWasAskedOnceMore() throws Exception {
    service.post(WarmUps.lines("End-1", START, 0, 100, 24, 31));
    open("soaks");
    chromium.one("[data-key^='end End-1']").click();
    assertThat(chromium.focused()).isEqualTo("Taken off: end it");
    chromium.one(".soak-acts .act:last-child").click();
    assertThat(service.get("api/soaks")).contains("\"ended\":null");
    chromium.one("[data-key^='end End-1']").click();
    chromium.one(".soak-acts .first").click();
    await().atMost(PATIENCE).until(() -> chromium.text("#list").contains("taken off"));
    assertThat(chromium.text("#said")).isEqualTo("The soak of End-1 is ended.");
    assertThat(service.get("api/soaks")).contains("\"ended\":\"taken_off\"");
  }

  @Test
  void aSoakIsLeftOutOfTheFiguresForAReasonAndTakenInAgain() throws Exception {
    service.post(WarmUps.lines("Odd-1", START, 0, 100, 24, 31));
    open("soaks");
    chromium.one("[data-key^='leave out Odd-1']").click();
    assertThat(chromium.one("#reason").equals(chromium.driver().switchTo().activeElement()))
        .isTrue();
    chromium.one(".why-form .act").click();
    assertThat(service.get("api/soaks")).contains("\"left_out\":null");
    chromium.one("#reason").sendKeys("the blanket had slipped", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> !chromium.all("tr[data-left-out]").isEmpty());
    assertThat(chromium.text("#said")).contains("The soak of Odd-1", "is left out of the figures");
    assertThat(chromium.text("#list tbody")).contains("left out: the blanket had slipped");
    chromium.one("[data-key^='take in Odd-1']").click();
    await().atMost(PATIENCE).until(() -> chromium.all("tr[data-left-out]").isEmpty());
    assertThat(chromium.text("#said")).contains("counts in the figures again");
    chromium.one("[data-key^='leave out Odd-1']").click();
    chromium.one("#reason").sendKeys(Keys.ESCAPE);
    assertThat(chromium.all("#reason")).isEmpty();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void fiftyArePutOnAPageAndTheEarlierOnesOnTheNext() throws Exception {
    for (int i = 0; i < 51; i++) {
      service.post(WarmUps.lines("Many-" + i, START, 0, 3, 24, 31));
    }
    open("soaks");
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 50);
    chromium.one("#earlier").click();
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 1);
    assertThat(chromium.one("#earlier").isDisplayed()).isFalse();
    chromium.one("#newest").click();
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 50);
  }

  @Test
  void whatIsNotThereIsSaid() throws Exception {
    open("soaks");
    assertThat(chromium.text("#headline")).isEqualTo("No soak yet");
    assertThat(chromium.one("#empty").isDisplayed()).isTrue();
    service.post(WarmUps.lines("There-1", START, 0, 3, 24, 31));
    open("soaks?tracker=nobody");
    assertThat(chromium.text("#headline")).isEqualTo("No soak is like that");
    chromium.driver().get(service.url() + "soaks?compare=no-such,nor-this");
    await().atMost(PATIENCE).until(() -> !chromium.all(".notice").isEmpty());
    assertThat(chromium.text(".notice")).matches("No soak (no-such|nor-this) is stored.*");
    assertThat(chromium.text("#headline")).isEqualTo("Nothing to show");
  }

  private void open(String page) {
    chromium.complaints();
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("#headline").contains("Asking"));
  }
}

package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;
import soakbench.OnABoard;
import soakbench.RunningService;
import soakbench.WarmUps;

/** The page of the soaks in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class SoaksPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @TempDir private Path folder;

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
  void recordingsAreBroughtInFromFilesAndTakenOutAgain() throws Exception {
    Path good =
        Files.writeString(
            folder.resolve("good.jsonl"), WarmUps.lines("In-1", START, 0, 60, 24, 31));
    Path none = Files.writeString(folder.resolve("notes.txt"), "not a recording\n");
    open("soaks");
    chromium.one("#bring summary").click();
    chromium.one("#bring-lot").sendKeys("Barley-2");
    chromium.one("#bring-files").sendKeys(good + "\n" + none);
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#bring-said").contains("1 file of 2 is in; 1 failed"));
    assertThat(chromium.texts("#brought tbody tr"))
        .anyMatch(r -> r.contains("good.jsonl") && r.contains("new, 0 there already, of In-1"))
        .anyMatch(r -> r.contains("notes.txt") && r.contains("failed: It holds no sample"));
    await().atMost(PATIENCE).until(() -> chromium.text("#list tbody").contains("In-1"));
    assertThat(chromium.text("#list tbody")).contains("Barley-2");
    // Dropped on the page it goes the same way.
    chromium.ask(
        "(() => { const files = new DataTransfer();"
            + " files.items.add(new File([%s], 'dropped.jsonl'));"
                .formatted(
                    new com.fasterxml.jackson.databind.ObjectMapper()
                        .writeValueAsString(Files.readString(good)))
            + " document.dispatchEvent(new DragEvent('drop', {dataTransfer: files, bubbles:"
            + " true})); return 'sent'; })()");
    await().atMost(PATIENCE).until(() -> chromium.text("#brought").contains("0 samples new"));
    assertThat(chromium.text("#brought")).contains("dropped.jsonl");
    await().atMost(PATIENCE).until(() -> chromium.all("[data-key^='undo ']").size() == 2);
    chromium.all("[data-key^='undo ']").get(1).click();
    chromium.one("#undo-reason").sendKeys("the wrong folder", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text("#bring-said").contains("is undone: "));
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#imports").contains("taken out: the wrong folder"));
    await().atMost(PATIENCE).until(() -> chromium.text("#headline").equals("No soak yet"));
    assertThat(chromium.complaints()).isEmpty();
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

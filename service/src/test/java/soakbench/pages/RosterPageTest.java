package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.STRING;
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

/** The page of the roster in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class RosterPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @TempDir Path folder;

  @Test
  void aFieldIsChangedInItsPlaceAndAllOthersStay() throws Exception {
    service.rates("Edit-1", "Kestrel", "raw");
    open("roster");
    type("Edit-1 lot", "Barley-2");
    await().atMost(PATIENCE).until(() -> chromium.text("#said").equals("Saved: Edit-1."));
    assertThat(service.get("api/trackers/Edit-1"))
        .contains("\"lot\":\"Barley-2\"", "\"name\":\"Kestrel\"", "\"rates\":\"raw\"");
    assertThat(chromium.<String>ask("document.activeElement.dataset.key")).isEqualTo("Edit-1 lot");
    type("Edit-1 temperature_offset_c", "99");
    await()
        .atMost(PATIENCE)
        .untilAsserted(
            () ->
                assertThat(chromium.texts("#list .wrong"))
                    .singleElement(STRING)
                    .contains("Not saved", "from -20 to 20"));
    chromium.press(Keys.ESCAPE);
    assertThat(chromium.text("[data-key=\"Edit-1 temperature_offset_c\"]")).isEqualTo("0");
  }

  @Test
  void whatSomebodyElseChangedMeanwhileIsNotWrittenOverUnasked() throws Exception {
    service.rates("Race-1", "Kestrel", "raw");
    open("roster");
    press("Race-1 name");
    service.rates("Race-1", "Merlin", "raw");
    chromium.press(Keys.END);
    chromium.driver().switchTo().activeElement().sendKeys("s", Keys.ENTER);
    await()
        .atMost(PATIENCE)
        .untilAsserted(
            () ->
                assertThat(chromium.texts("#list .wrong"))
                    .singleElement(STRING)
                    .contains("set it to “Merlin” meanwhile"));
    assertThat(service.get("api/trackers/Race-1")).contains("Merlin");
    chromium.one("#list .wrong .act:last-child").click();
    await().atMost(PATIENCE).until(() -> service.get("api/trackers/Race-1").contains("Kestrels"));
  }

  @Test
  void aFileSaysWhatItWouldChangeOrWhatIsWrongWithItBeforeItIsSaved() throws Exception {
    service.rates("File-1", "Kestrel", "raw");
    open("roster");
    choose("id,nmae,power\nFile-1,Merlin,solar\n");
    await().atMost(PATIENCE).until(() -> chromium.texts("#changes tbody tr").size() == 2);
    assertThat(chromium.text("#changes")).contains("did you mean", "use battery, usb or unknown");
    choose("id,name,lot\nFile-1,Kestrel,B7\nFile-2,Wren,B8\n");
    await().atMost(PATIENCE).until(() -> chromium.text("#changes").contains("1 new tracker"));
    assertThat(chromium.texts("#changes tbody tr")).hasSize(3);
    assertThat(service.get("api/trackers")).doesNotContain("Wren");
    chromium.one("#changes .act.first").click();
    await().atMost(PATIENCE).until(() -> service.get("api/trackers").contains("Wren"));
    await().atMost(PATIENCE).until(() -> chromium.text("#list").contains("Wren"));
    assertThat(chromium.text("#headline")).isEqualTo("2 trackers");
  }

  @Test
  void racksAreDrawnAsTheyStandAndWhoIsHeardButNotListedIsTold() throws Exception {
    service.post(WarmUps.lines("Rack-1", START, 0, 300, 24, 31));
    service.post(WarmUps.lines("Rack-2", START, 0, 300, 24, 31));
    service.roster("Rack-1", "Kestrel");
    service.roster("Rack-3", "Merlin");
    open("roster?q=kestrel");
    assertThat(chromium.text("#racks")).contains("A", "3", "Kestrel", "2 trackers have this slot");
    assertThat(chromium.text("#unlisted")).contains("Rack-2", "Name them");
    assertThat(chromium.texts("#list tbody tr")).hasSize(1);
    chromium.one("#q").sendKeys("x");
    assertThat(chromium.text("#none")).contains("None of 2 trackers");
    assertThat(chromium.driver().getCurrentUrl()).endsWith("?q=kestrelx");
  }

  @Test
  void anEmptyRosterSaysHowToBegin() {
    open("roster");
    assertThat(chromium.text("#headline")).isEqualTo("Nobody is listed yet");
    assertThat(chromium.one("#empty a").getDomAttribute("href")).isEqualTo("/start");
  }

  private void choose(String csv) throws Exception {
    Path file = Files.writeString(folder.resolve("roster.csv"), csv);
    chromium.driver().executeScript("document.getElementById('file').value = ''");
    chromium.one("#file").sendKeys(file.toString());
  }

  private static void press(String key) {
    chromium.one("[data-key=\"" + key + "\"]").click();
  }

  private static void type(String key, String value) {
    press(key);
    chromium.driver().switchTo().activeElement().sendKeys(value, Keys.ENTER);
  }

  private void open(String page) {
    chromium.complaints();
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("#headline").contains("Asking"));
  }
}

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

/** The page of the first steps in a real browser: from nothing to a rack with names. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class StartPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void fromNothingHeardToARackOfNamedTrackersOnTheBoard() throws Exception {
    openStart();
    assertThat(chromium.text("#headline")).isEqualTo("Nothing is heard yet");
    assertThat(chromium.text("#no-rack")).contains("--write-rack", service.url() + "api/samples");
    assertThat(chromium.one("#nobody").isDisplayed()).isTrue();

    service.post(WarmUps.lines("New-1", START, 0, 60, 24, 31));
    service.post(WarmUps.lines("New-2", START, 0, 60, 24, 31));
    await().atMost(PATIENCE).until(() -> chromium.texts(".heard").size() == 2);
    assertThat(chromium.text("#headline"))
        .matches("2 trackers (are|were) heard.*; none has a name and place");
    fill("New-1 name", "Kestrel");
    fill("New-1 rack", "window bench");
    fill("New-1 slot", "W1");
    fill("New-2 name", "Merlin");
    chromium.press(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text("#said").equals("2 trackers saved."));
    assertThat(service.get("api/trackers/New-1"))
        .contains("\"name\":\"Kestrel\"", "\"rack\":\"window bench\"", "\"slot\":\"W1\"");
    await().atMost(PATIENCE).until(() -> chromium.text("#headline").contains("1 has no name and"));
    assertThat(chromium.complaints()).isEmpty();

    chromium.one(".acts a.first").click();
    await()
        .atMost(PATIENCE)
        .until(() -> String.join("", chromium.texts("#trackers")).contains("Kestrel"));
  }

  @Test
  void whatIsBeingTypedStaysWhileTheTrackerGoesOn() throws Exception {
    service.post(WarmUps.lines("Type-1", START, 0, 60, 24, 31));
    openStart();
    fill("Type-1 name", "Kes");
    service.rates("Type-1", "Merlin", "raw");
    service.post(WarmUps.lines("Type-1", START, 60, 300, 24, 31));
    await().atMost(PATIENCE).until(() -> !chromium.text(".now").startsWith("starting"));
    assertThat(field("Type-1 name")).isEqualTo("Kes");
    chromium.press(Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text(".heard .wrong").contains("“Merlin”"));
    chromium.one("#save").click();
    await().atMost(PATIENCE).until(() -> service.get("api/trackers/Type-1").contains("\"Kes\""));
  }

  @Test
  void onAPhoneTooThoseWhoAreHeardAreThereToBeNamed() throws Exception {
    service.post(WarmUps.lines("Pocket-1", START, 0, 60, 24, 31));
    chromium.resize(390, 900);
    openStart();
    await().atMost(PATIENCE).until(() -> !chromium.all("[id=\"Pocket-1 name\"]").isEmpty());
    assertThat(chromium.one("[id=\"Pocket-1 name\"]").isDisplayed()).isTrue();
    chromium.resize(1920, 1080);
  }

  private static void fill(String id, String value) {
    chromium.one("[id=\"" + id + "\"]").sendKeys(value);
  }

  private static String field(String id) {
    return chromium.one("[id=\"" + id + "\"]").getDomProperty("value");
  }

  private void openStart() {
    chromium.complaints();
    chromium.driver().get(service.url() + "start");
    await().atMost(PATIENCE).until(() -> !chromium.text("#headline").contains("Asking"));
  }
}

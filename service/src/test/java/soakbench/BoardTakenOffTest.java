package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.WebElement;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/** Where the board lets somebody say that a tracker was taken off, in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardTakenOffTest extends OnABoard {
  private static final Instant START = RunningService.START;
  private static final String UNTIMED = "{\"id\":\"Bare-1\",\"temp_c\":60,\"gyro_dps\":[0,0,0]}\n";

  @Test
  void whatIsSilentWithoutASoakThatCouldBeEndedIsNotAskedAboutIt() throws Exception {
    for (int i = 0; i < 20; i++) {
      service.post(UNTIMED);
      service.second();
    }
    service.silence();
    service.alarm(
        AlarmCause.plain(Kind.SILENT, Severity.WARNING, "Bare-1", "It is so.", "Look at it."));
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.texts(".word").equals(List.of("silent")));
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#others summary").contains("Silent: Bare-1"));
    chromium.one("#others summary").click();
    await().atMost(PATIENCE).until(() -> chromium.one("#others li").isDisplayed());
    assertThat(service.get("api/readiness")).contains("\"soak\":null");
    assertThat(offered()).isEmpty();
  }

  @Test
  void aSoakThatSomebodyElseEndedIsTakenAsDone() throws Exception {
    service.post(WarmUps.lines("Done-1", START, 0, 60, 24, 31));
    String soak =
        service.get("api/soaks?tracker=Done-1").replaceFirst(".*?\"soak\":\"(.*?)\".*", "$1");
    openBoard();
    assertThat(takeOff(soak)).isNull();
    assertThat(takeOff(soak)).as("the second who says so").isNull();
    assertThat(takeOff("Nobody@20260302T080000000Z")).startsWith("Not noted as taken off: ");
  }

  @Test
  void aRefusalGoesAwayWithTheSilenceThatItWasAbout() {
    openBoard();
    List<String> said =
        inThePage(
            "const { TakenOff } = await import('/js/taken-off.js');const part = new TakenOff(async"
                + " () => 'Not noted.');const said = () =>"
                + " part.node.querySelector('p').textContent;const show = (state) => part.update({"
                + " id: 'T', name: 'T', state, readiness: { soak: 'T@1' } });show('silent');"
                + " part.node.querySelector('button').click();await Promise.resolve(); await"
                + " Promise.resolve();const first = said(); show('soaking'); show('silent'); return"
                + " [first, said()];");
    assertThat(said).containsExactly("Not noted.", "");
  }

  private static List<String> offered() {
    return chromium.all("button").stream()
        .filter(WebElement::isDisplayed)
        .map(WebElement::getText)
        .filter(words -> words.equals("Taken off"))
        .toList();
  }

  private static String takeOff(String soak) {
    return inThePage(
        "const { takeOff } = await import('/js/taken-off.js'); return takeOff('" + soak + "');");
  }

  /** What a piece of script with the page's own modules answers. */
  @SuppressWarnings("unchecked")
  private static <T> T inThePage(String script) {
    return (T)
        chromium.driver().executeAsyncScript("(async () => {" + script + "})().then(arguments[0])");
  }

  private void openBoard() {
    chromium.driver().get(service.url().toString());
  }
}

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
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/** The page of the alarms in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class AlarmsPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void heatStandsFirstIsSeenByNameAndIsListedWhenItIsOver() throws Exception {
    service.post(WarmUps.lines("Calm-1", START, 0, 60, 24, 31));
    service.post(WarmUps.lines("Hot-1", START, 0, 600, 30, 50));
    open("alarms");
    assertThat(chromium.text("#headline")).contains("of heat", "nobody has seen");
    assertThat(chromium.text("#open .alarm h2")).startsWith("Hot: Hot-1");
    assertThat(chromium.text("#open .alarm-why")).contains("cell", "Look at Hot-1");
    chromium.one("#by").sendKeys("Ada");
    int unseen = chromium.all("[data-calls]").size();
    chromium.one("#open .act").click();
    await().atMost(PATIENCE).until(() -> chromium.all("[data-calls]").size() == unseen - 1);
    assertThat(service.get("api/alarms")).contains("\"acknowledged_by\":\"Ada\"");
    assertThat(chromium.text("#open")).contains("seen", "by Ada");

    chromium.one("#lot").sendKeys("no such lot", Keys.ENTER);
    await().atMost(PATIENCE).until(() -> chromium.text("#headline").startsWith("No alarm holds"));
    assertThat(chromium.text("#headline")).isEqualTo("No alarm holds in lot no such lot");
    assertThat(chromium.text("#elsewhere")).contains("elsewhere", "of heat");
    assertThat(chromium.driver().getCurrentUrl()).endsWith("/alarms?lot=no+such+lot");
    chromium.driver().navigate().back();
    await().atMost(PATIENCE).until(() -> !chromium.texts("#open .alarm").isEmpty());
    assertThat(chromium.one("#elsewhere").isDisplayed()).isFalse();

    service.alarmOver(Kind.HOT, "Hot-1");
    await().atMost(PATIENCE).until(() -> !chromium.texts("#ended tbody tr").isEmpty());
    assertThat(chromium.text("#ended tbody tr")).contains("Hot: Hot-1", "by Ada");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aSilentTrackerThatWasTakenOffHasItsSoakEnded() throws Exception {
    service.post(WarmUps.lines("Off-1", START, 0, 300, 24, 31));
    service.silence();
    service.alarm(
        AlarmCause.plain(Kind.SILENT, Severity.WARNING, "Off-1", "It is so.", "Look at it."));
    open("alarms");
    await().atMost(PATIENCE).until(() -> chromium.all("[aria-label^=Taken]").size() == 1);
    chromium.one("[aria-label^=Taken]").click();
    await().atMost(PATIENCE).until(() -> service.get("api/soaks").contains("taken_off"));
    await().atMost(PATIENCE).until(() -> chromium.all("[aria-label^=Taken]").isEmpty());
  }

  @Test
  void withoutAlarmsTheCautionsAreThereAllTheSame() {
    open("alarms");
    assertThat(chromium.text("#headline")).isEqualTo("No alarm holds");
    assertThat(chromium.text("#cautions"))
        .contains("Never insulate a pack that is charging", "late sign", "local codes");
    assertThat(chromium.one("#none-ended").isDisplayed()).isTrue();
  }

  @Test
  void aServiceThatIsGoneIsSaidAndFoundAgain() throws Exception {
    service.post(WarmUps.lines("Gone-1", START, 0, 600, 30, 50));
    open("alarms");
    int port = service.url().getPort();
    service.close();
    await().atMost(PATIENCE).until(() -> !chromium.all("main[data-old]").isEmpty());
    assertThat(chromium.text(".notice")).contains("No answer from the service", "was read at");
    assertThat(chromium.text("#open")).contains("Hot: Gone-1");
    service = RunningService.start(database, port);
    await().atMost(PATIENCE).until(() -> chromium.all(".notice").isEmpty());
    assertThat(chromium.all("main[data-old]")).isEmpty();
  }

  private void open(String page) {
    chromium.complaints();
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("#headline").contains("Asking"));
  }
}

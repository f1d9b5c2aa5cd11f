package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.QuickStop;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessToken;
import soakbench.api.access.PairingCode;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** A phone that is let in, in a real browser against a real service that lets nobody read. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class PairingPageTest {
  private static final Duration PATIENCE = Duration.ofSeconds(40);

  private final Chromium chromium = Chromium.start();
  private Database database;
  private SoakWatch watch;
  private ApiServer server;

  @BeforeEach
  void serve() {
    database = Database.open(SharedServer.empty());
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    server = start(0, "a-first-token-of-30-characters");
    chromium.resize(390, 844);
  }

  @AfterEach
  void stop() {
    chromium.close();
    server.close();
    database.close();
  }

  private ApiServer start(int port, String token) {
    AccessSettings closed = AccessSettings.OPEN.withToken(new AccessToken(token));
    return QuickStop.of(
        ApiServer.start(ApiSettings.local(port).withAccess(closed), watch, database, () -> 0));
  }

  @Test
  void aPhoneIsLetInByACodeAndFindsItsBoardAgainAfterItIsShutOut() {
    chromium.driver().get(server.url().toString());
    assertThat(chromium.text("h1")).isEqualTo("Let this browser in");
    assertThat(chromium.<Long>ask("document.documentElement.scrollWidth")).isLessThanOrEqualTo(390);
    enter("WRNG-C0DE");
    await().atMost(PATIENCE).until(() -> chromium.all("[role=alert]").size() == 1);
    assertThat(chromium.text("[role=alert]")).contains("This code is wrong");

    PairingCode code = server.newPairingCode().orElseThrow();
    chromium.driver().get(code.pages().get(0).toString());
    chromium.one("button").click();
    await().atMost(PATIENCE).until(() -> headline().equals("No tracker is heard yet"));
    assertThat(chromium.all(".notice")).isEmpty();
    assertThat(chromium.<String>ask("document.cookie")).as("no script sees the cookie").isEmpty();
    complaintsAreOnlyAbout("403");

    shutOut();
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts(".notice").toString().contains("not let in"));
    String board = chromium.driver().getWindowHandle();
    letInInAnotherTab();
    chromium.driver().switchTo().window(board);
    await().atMost(PATIENCE).until(() -> chromium.all(".notice").isEmpty());
    complaintsAreOnlyAbout("401|net::ERR_");
  }

  private void enter(String code) {
    WebElement field = chromium.one("#code");
    field.clear();
    field.sendKeys(code);
    chromium.one("button").click();
  }

  /** Another token makes the cookie void. */
  private void shutOut() {
    int port = server.port();
    server.close();
    server = start(port, "another-token-of-30-characters");
  }

  private void letInInAnotherTab() {
    WebElement way = chromium.driver().findElement(By.linkText("Enter a pairing code"));
    String page = way.getDomProperty("href");
    assertThat(page).endsWith("/pair");
    chromium.openTab();
    chromium.driver().get(page);
    enter(server.newPairingCode().orElseThrow().code());
    await().atMost(PATIENCE).until(() -> headline().equals("No tracker is heard yet"));
  }

  private String headline() {
    List<String> found = chromium.texts("#headline");
    return found.isEmpty() ? "" : found.get(0);
  }

  /** No script, style or form was refused by the content security policy. */
  private void complaintsAreOnlyAbout(String expected) {
    assertThat(chromium.complaints()).allMatch(line -> line.matches(".*(" + expected + ").*"));
  }
}

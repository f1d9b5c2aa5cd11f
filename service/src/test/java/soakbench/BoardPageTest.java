package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.live.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.DatabaseSettings;

/** The board in a real browser, fed over HTTP by a real service on a real database. */
class BoardPageTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");
  private static final Duration PATIENCE = Duration.ofSeconds(20);
  private static final HttpClient CLIENT = HttpClient.newHttpClient();

  @TempDir static Path folder;
  private static Chromium chromium;
  private static Database database;

  private ApiServer server;

  @BeforeAll
  static void open() {
    chromium = Chromium.start();
    database = Database.open(DatabaseSettings.embedded(folder));
  }

  @AfterAll
  static void close() {
    if (chromium != null) {
      chromium.close();
    }
    if (database != null) {
      database.close();
    }
  }

  @BeforeEach
  void serve() {
    serve(0);
    chromium.resize(1920, 1080);
  }

  /** A watch that is not restored knows no tracker, so each test has a board of its own. */
  private void serve(int port) {
    SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    server = ApiServer.start(ApiSettings.local(port), watch, database, () -> 0);
  }

  @AfterEach
  void stop() {
    chromium.driver().get("about:blank");
    server.close();
  }

  @Test
  void anEmptyBoardSaysWhatToTry() {
    openBoard();
    await().atMost(PATIENCE).until(() -> headline().equals("No tracker is heard yet"));
    assertThat(text("#empty")).contains("soakbench.jar ports", server.url() + "api/samples");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aTileAppearsAndTurnsReadyWithoutReloading() throws Exception {
    openBoard();
    post(WarmUps.lines("Turn-1", START, 0, 40, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("starting")));
    chromium.driver().executeScript("window.neverReloaded = true");
    post(WarmUps.lines("Turn-1", START, 40, 300, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("warming")));
    assertThat(headline()).startsWith("None ready");
    post(WarmUps.lines("Turn-1", START, 300, 2400, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("ready")));
    assertThat(headline()).isEqualTo("1 ready");
    assertThat(chromium.driver().getTitle()).isEqualTo("1 of 1 ready · Soakbench");
    assertThat(text(".temperature")).startsWith("31.0 °C");
    assertThat(text("#clock")).startsWith("data clock");
    assertThat(chromium.<Boolean>ask("window.neverReloaded === true")).isTrue();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void twelveTilesFitABenchScreenWithStatesReadableAcrossTheRoom() throws Exception {
    twelve("Fit");
    openBoard();
    await().atMost(PATIENCE).until(() -> words().size() == 12);
    for (WebElement word : all(".word")) {
      assertThat(Double.parseDouble(word.getCssValue("font-size").replace("px", "")))
          .isGreaterThanOrEqualTo(48);
    }
    for (WebElement tile : all(".tile")) {
      assertThat(tile.getRect().getY() + tile.getRect().getHeight()).isLessThanOrEqualTo(1080);
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {390, 1366, 1920})
  void nothingRunsOffTheSideOfAScreenOfWidth(int width) throws Exception {
    chromium.resize(width, 900);
    twelve("Side" + width);
    roster(
        "Side" + width + "-3",
        "A name as long as somebody in a hurry should never give it, but did");
    openBoard();
    await().atMost(PATIENCE).until(() -> words().size() == 12);
    assertThat(chromium.<Long>ask("document.documentElement.scrollWidth"))
        .isLessThanOrEqualTo(width);
    assertThat(chromium.<Long>ask(OUTSIDE_THEIR_TILE)).isZero();
  }

  private static final String OUTSIDE_THEIR_TILE =
      "[...document.querySelectorAll('.tile *')].filter(e => {"
          + " const tile = e.closest('.tile').getBoundingClientRect();"
          + " const own = e.getBoundingClientRect();"
          + " return own.width > 2 && (own.right > tile.right + 1 || own.bottom > tile.bottom + 1"
          + " || own.left < tile.left - 1); }).length";

  @Test
  void aHotTrackerIsFilledNamedFirstAndSaysWhatToDo() throws Exception {
    post(WarmUps.lines("Hot-1", START, 0, 600, 30, 50));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().equals(List.of("hot")));
    assertThat(headline()).startsWith("1 hot!");
    assertThat(text(".caution")).contains("Uncover it now", "cell maker");
    String fill = one(".tile").getCssValue("background-color");
    assertThat(fill).isEqualTo(one(".tile").getCssValue("border-top-color"));
    one("#todo a").click();
    assertThat(chromium.<String>ask("document.activeElement.className")).isEqualTo("tile");
  }

  @Test
  void aNameIsTextWhateverItHolds() throws Exception {
    String name = "<img src=x onerror=document.title=1> & \"co\"";
    roster("Name-1", name);
    post(WarmUps.lines("Name-1", START, 0, 30, 24, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().size() == 1 && text("h3").contains(name));
    assertThat(all("img")).isEmpty();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void theKeyboardReachesTilesTimesAndCautions() throws Exception {
    post(WarmUps.lines("Keys-1", START, 0, 400, 24, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> all("#rail a").size() == 1);
    WebElement body = one("body");
    body.sendKeys(Keys.TAB);
    assertThat(focused()).isEqualTo("Skip to the trackers");
    body.sendKeys(Keys.TAB);
    assertThat(focused()).isEqualTo("Heat and cells");
    chromium.driver().switchTo().activeElement().sendKeys(Keys.TAB);
    assertThat(focused()).startsWith("Keys-1").contains("expected ready");
    chromium.driver().switchTo().activeElement().sendKeys(Keys.TAB);
    assertThat(focused()).startsWith("Heat and cells: never insulate");
    chromium.driver().switchTo().activeElement().sendKeys(Keys.ENTER);
    assertThat(text("#cautions")).contains("swelling, smell or fast heating");
    assertThat(text("article")).contains("Keys-1");
  }

  @Test
  void aLostServiceIsSaidAndFoundAgain() throws Exception {
    post(WarmUps.lines("Lost-1", START, 0, 2400, 20, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().equals(List.of("ready")));
    assertThat(all(".tile[data-old]")).isEmpty();
    int port = server.port();
    server.close();
    await().atMost(PATIENCE).until(() -> all(".notice").size() == 1);
    assertThat(text(".notice")).contains("Connection to the service lost", "old");
    assertThat(all(".tile[data-old]")).hasSize(1);
    assertThat(chromium.driver().getTitle()).startsWith("connection lost");
    serve(port);
    post(WarmUps.lines("Lost-2", START, 0, 30, 24, 31));
    await().atMost(PATIENCE).until(() -> all(".notice").isEmpty());
    await().atMost(PATIENCE).until(() -> words().equals(List.of("starting")));
    assertThat(all(".tile[data-old]")).isEmpty();
    assertThat(chromium.complaints()).allMatch(line -> line.contains("net::ERR_"));
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(server.url().toString());
  }

  /** Cold and warm ones, so that the tiles say different things. */
  private void twelve(String prefix) throws Exception {
    for (int i = 0; i < 12; i++) {
      post(WarmUps.lines(prefix + "-" + i, START, 0, 120 + 20 * i, 20 + i, 24 + 2 * i));
    }
  }

  private void post(String lines) throws IOException, InterruptedException {
    send("POST", "api/samples", "application/x-ndjson", lines);
  }

  private void roster(String id, String name) throws IOException, InterruptedException {
    String json = "{\"name\":\"" + name.replace("\"", "\\\"") + "\",\"rack\":\"A\",\"slot\":\"3\"}";
    send("PUT", "api/trackers/" + id, "application/json", json);
  }

  private void send(String method, String path, String type, String body)
      throws IOException, InterruptedException {
    URI url = server.url().resolve(path);
    HttpRequest request =
        HttpRequest.newBuilder(url)
            .header("Content-Type", type)
            .method(method, HttpRequest.BodyPublishers.ofString(body))
            .build();
    HttpResponse<String> answer = CLIENT.send(request, HttpResponse.BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 299);
  }

  private static List<String> words() {
    return chromium.ask("[...document.querySelectorAll('.word')].map(e => e.textContent)");
  }

  private static String headline() {
    return text("#headline");
  }

  /** All text of the first such element, whitespace evened out, no-break spaces too. */
  private static String text(String selector) {
    String script = "document.querySelector('" + selector + "').textContent";
    return chromium.<String>ask(script).replaceAll("[\\s\\u00a0]+", " ").strip();
  }

  private static String focused() {
    return chromium.<String>ask("document.activeElement.textContent").strip();
  }

  private static WebElement one(String selector) {
    return chromium.driver().findElement(By.cssSelector(selector));
  }

  private static List<WebElement> all(String selector) {
    return chromium.driver().findElements(By.cssSelector(selector));
  }
}

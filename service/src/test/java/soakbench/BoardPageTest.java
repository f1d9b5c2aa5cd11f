package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.STRING;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The board in a real browser, fed over HTTP by a real service on a real database. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardPageTest extends OnABoard {
  private static final Instant START = RunningService.START;

  @Test
  void anEmptyBoardSaysWhatToTry() {
    openBoard();
    await().atMost(PATIENCE).until(() -> headline().equals("No tracker is heard yet"));
    assertThat(chromium.text("#empty")).contains("soakbench ports", service.url() + "api/samples");
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void aTileAppearsAndTurnsReadyWithoutReloading() throws Exception {
    openBoard();
    service.post(WarmUps.lines("Turn-1", START, 0, 40, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("starting")));
    chromium.driver().executeScript("window.neverReloaded = true");
    service.post(WarmUps.lines("Turn-1", START, 40, 300, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("warming")));
    await().atMost(PATIENCE).until(() -> headline().startsWith("None ready"));
    service.post(WarmUps.lines("Turn-1", START, 300, 1500, 20, 31));
    await().atMost(PATIENCE).until(() -> words().equals(List.of("ready")));
    await().atMost(PATIENCE).until(() -> headline().equals("Next: Turn-1"));
    assertThat(chromium.driver().getTitle()).isEqualTo("1 of 1 ready · Soakbench");
    await().atMost(PATIENCE).until(() -> chromium.text(".temperature").startsWith("31.0 °C"));
    assertThat(chromium.text("#clock")).startsWith("data clock");
    assertThat(chromium.<Boolean>ask("window.neverReloaded === true")).isTrue();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void twelveTilesFitABenchScreenInFull() throws Exception {
    service.twelve("Fit");
    openBoard();
    await().atMost(PATIENCE).until(() -> words().size() == 12);
    assertThat(chromium.one("#trackers").getAttribute("data-form")).isEqualTo("full");
    for (WebElement tile : chromium.all(".tile")) {
      assertThat(tile.getRect().getY() + tile.getRect().getHeight()).isLessThanOrEqualTo(1080);
    }
  }

  @Test
  void nothingRunsOffTheSideOfAScreenOfWhateverWidth() throws Exception {
    service.twelve("Side1920");
    service.roster(
        "Side1920-3", "A name as long as somebody in a hurry should never give it, but did");
    for (int width : new int[] {390, 1366, 1920}) {
      chromium.resize(width, 900);
      chromium.driver().get("about:blank");
      openBoard();
      await().atMost(PATIENCE).until(() -> words().size() == 12);
      assertThat(chromium.<Long>ask("document.documentElement.scrollWidth"))
          .isLessThanOrEqualTo(width);
      assertThat(chromium.<Long>ask(OUTSIDE_THEIR_TILE)).as("at width %d", width).isZero();
    }
  }

  private static final String OUTSIDE_THEIR_TILE =
      "[...document.querySelectorAll('.tile *')].filter(e => {"
          + " const tile = e.closest('.tile').getBoundingClientRect();"
          + " const own = e.getBoundingClientRect();"
          + " return own.width > 2 && (own.right > tile.right + 1 || own.bottom > tile.bottom + 1"
          + " || own.left < tile.left - 1); }).length";

  @Test
  void aHotTrackerIsFilledNamedFirstAndSaysWhatToDo() throws Exception {
    service.post(WarmUps.lines("Hot-1", START, 0, 600, 30, 50));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().equals(List.of("hot")));
    await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 1);
    assertThat(chromium.text("#heat .alarm-what")).isEqualTo("Hot: Hot-1");
    assertThat(chromium.text(".caution")).contains("Uncover it now", "cell maker");
    String fill = chromium.one(".tile").getCssValue("background-color");
    assertThat(fill).isEqualTo(chromium.one(".tile").getCssValue("border-top-color"));
    chromium.one("#heat button:not([hidden])").click();
    // Seen, it is still who is next.
    await().atMost(PATIENCE).until(() -> headline().equals("Hot: Hot-1"));
    assertThat(chromium.text("#slab .how")).contains("Uncover it now", "cell maker");
    assertThat(chromium.one("#slab").getCssValue("background-color")).isEqualTo(fill);
  }

  @Test
  void aNameIsTextWhateverItHolds() throws Exception {
    String name = "<img src=x onerror=document.title=1> & \"co\"";
    service.roster("Name-1", name);
    service.post(WarmUps.lines("Name-1", START, 0, 30, 24, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().size() == 1 && chromium.text("h3").contains(name));
    assertThat(chromium.all("img")).isEmpty();
    assertThat(chromium.complaints()).isEmpty();
  }

  @Test
  void theKeyboardReachesTilesTimesAndCautions() throws Exception {
    service.post(WarmUps.lines("Keys-1", START, 0, 400, 24, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> chromium.all("#rail a").size() == 1);
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).isEqualTo("Skip to the trackers");
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).isEqualTo("Board");
    tabTo("Ports");
    tabTo("Heat and cells");
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).as("the answer").isEqualTo("Keys-1");
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).startsWith("Keys-1").contains("expected ready");
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).as("its tile").isEqualTo("Keys-1");
    assertThat(chromium.<String>ask("document.activeElement.pathname"))
        .isEqualTo("/tracker/Keys-1");
    assertThat(chromium.all(".tile button").stream().filter(WebElement::isDisplayed))
        .as("what warms was not calibrated just now")
        .isEmpty();
    chromium.press(Keys.TAB);
    assertThat(chromium.focused()).startsWith("Heat and cells: never insulate");
    chromium.press(Keys.ENTER);
    assertThat(chromium.text("#cautions")).contains("swelling, smell or fast heating");
    assertThat(chromium.text("article")).contains("Keys-1");
  }

  @Test
  void aLostServiceIsSaidAndFoundAgain() throws Exception {
    service.post(WarmUps.lines("Lost-1", START, 0, 1200, 20, 31));
    openBoard();
    await().atMost(PATIENCE).until(() -> words().equals(List.of("ready")));
    assertThat(chromium.all(".tile[data-old]")).isEmpty();
    int port = service.url().getPort();
    service.close();
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.texts(".notice"), all -> String.join("", all).contains("lost"));
    assertThat(chromium.texts(".notice"))
        .singleElement(STRING)
        .contains("Connection to the service lost", "old");
    assertThat(chromium.all(".tile[data-old]")).hasSize(1);
    assertThat(chromium.text(".advice")).startsWith("Old:");
    assertThat(chromium.driver().getTitle()).startsWith("connection lost");
    service = RunningService.start(database, port);
    service.post(WarmUps.lines("Lost-2", START, 1170, 1200, 24, 31));
    await().atMost(PATIENCE).until(() -> chromium.all(".notice").isEmpty());
    await().atMost(PATIENCE).until(() -> words().equals(List.of("ready", "starting")));
    assertThat(chromium.all(".tile[data-old]")).isEmpty();
    assertThat(chromium.complaints()).allMatch(line -> line.contains("net::ERR_"));
  }

  /** What stands in the header, some of which is a choice without words of its own. */
  private static void tabTo(String words) {
    for (int i = 0; i < 12 && !chromium.focused().equals(words); i++) {
      chromium.press(Keys.TAB);
    }
    assertThat(chromium.focused()).isEqualTo(words);
  }

  private void openBoard() {
    chromium.complaints();
    chromium.driver().get(service.url().toString());
  }

  private static List<String> words() {
    return chromium.texts(".word");
  }

  private static String headline() {
    return chromium.text("#headline");
  }
}

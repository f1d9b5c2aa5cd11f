package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.STRING;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.Chromium;
import soakbench.RunningService;
import soakbench.WarmUps;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/**
 * All pages in a real browser, with data of one service, on screens of all widths, light and dark:
 * what holds of every one of them.
 */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class PagesTest {
  private static final Instant START = RunningService.START;
  private static final Duration PATIENCE = Duration.ofSeconds(30);

  /** A page draws its parts as they are answered, and anew where its width changes. */
  private static final Duration REDRAWN = Duration.ofSeconds(10);

  private static final int[] WIDTHS = {390, 1366, 1920};

  private static Chromium chromium;
  private static Database database;
  private static RunningService service;
  private static List<String> pages;

  @BeforeAll
  static void serve() throws Exception {
    chromium = Chromium.start();
    database = Database.open(SharedServer.empty());
    service = RunningService.start(database, 0);
    service.post(WarmUps.lines("Page-1", START, 0, 1300, 20, 31));
    service.post(WarmUps.lines("Page-2", START, 0, 1000, 24, 30));
    service.post(WarmUps.lines("Page-hot", START, 0, 600, 30, 50));
    service.silence();
    service.roster(
        "id,name,lot,rack,slot\n"
            + "Page-1,\"A name as long as somebody in a hurry should never give it, but"
            + " did\",K1,A,3\n"
            + "Page-2,,K2,A,4\n");
    service.deriveFigures();
    String compare = "Page-1@20260302T080000000Z,Page-2@20260302T080000000Z";
    pages =
        List.of(
            "",
            "soaks",
            "soaks?compare=" + compare,
            "soaks?tracker=nobody",
            "lots",
            "lots?lot=K1",
            "lots/compare?lots=K1&lots=K2",
            "lots/report?lots=K1&lots=K2",
            "roster",
            "limits?dwell_s=90",
            "alarms",
            "ports",
            "sheet",
            "start",
            "columns?name=tempco",
            "tracker/Page-1",
            "soak/Page-1@20260302T080000000Z/report");
  }

  @AfterAll
  static void stop() {
    chromium.close();
    service.close();
    database.close();
  }

  @AfterEach
  void light() {
    chromium.scheme("light");
  }

  @Test
  void everyPageFitsScreensOfAllWidthsFetchesNothingElsewhereAndCanBeUsedByEverybody() {
    for (String page : pages) {
      open(page);
      // Before it is resized: at another width a chart asks for other rows.
      assertThat(chromium.<Long>ask(WEIGHT)).as("bytes of " + page).isLessThan(MOST_BYTES);
      for (int width : WIDTHS) {
        chromium.resize(width, 900);
        await(page + " at " + width + " px")
            .atMost(REDRAWN)
            .until(() -> chromium.<Long>ask("document.documentElement.scrollWidth") <= width);
      }
      assertThat(chromium.<List<String>>ask(ELSEWHERE)).as(page).isEmpty();
      assertThat(chromium.complaints()).as(page).isEmpty();
      clean(page, () -> Axe.serious(chromium));
    }
  }

  /** What a page is made of, and what it had asked for by then, as they are sent. */
  private static final String WEIGHT =
      "['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind))"
          + ".reduce((sum, entry) => sum + entry.encodedBodySize, 0)";

  private static final long MOST_BYTES = 250 << 10;

  @Test
  @Tag("bench")
  void everyPageIsPaintedWithinASecond() {
    for (String page : pages) {
      open(page);
      double ms =
          chromium
              .<Number>ask("performance.getEntriesByName('first-contentful-paint')[0].startTime")
              .doubleValue();
      System.out.printf(
          "/%s painted after %.0f ms, %d bytes%n", page, ms, chromium.<Long>ask(WEIGHT));
      assertThat(ms).as(page).isLessThan(1000);
    }
  }

  private static final String ELSEWHERE =
      "performance.getEntriesByType('resource').map(e => e.name)"
          + ".filter(name => !name.startsWith(location.origin))";

  @Test
  @Tag("bench")
  void nothingIsTooPaleInTheDarkAndOnAPhone() {
    for (String page : pages) {
      open(page);
      chromium.resize(390, 900);
      chromium.scheme("dark");
      clean(page + ", dark and small", () -> Axe.seriousOfColours(chromium));
      chromium.scheme("light");
    }
  }

  @Test
  void aPageWithSuchAFaultWouldBeFound() {
    open("alarms");
    chromium.driver().executeScript("document.getElementById('by').labels[0].remove()");
    assertThat(Axe.serious(chromium)).singleElement(STRING).startsWith("label:");
  }

  @Test
  void everyPageIsOneTapFromEveryOtherAndSaysWhereOneIs() {
    for (String page : pages) {
      open(page);
      List<String> ways =
          chromium.ask(
              "[...document.querySelectorAll('#pages a')].map(a => a.getAttribute('href'))");
      assertThat(ways)
          .contains(
              "/", "/soaks", "/lots", "/roster", "/limits", "/alarms", "/ports", "/sheet",
              "/start");
      boolean ofOneThing = page.startsWith("tracker/") || page.startsWith("soak/");
      assertThat(chromium.texts("#pages [aria-current]")).as(page).hasSize(ofOneThing ? 0 : 1);
    }
    for (String page :
        List.of("", "soaks", "lots", "roster", "limits", "alarms", "ports", "sheet", "start")) {
      assertThat(chromium.<Boolean>ask("fetch('/" + page + "').then(a => a.ok)")).as(page).isTrue();
    }
  }

  @Test
  void timesAreToldInTheReadersZoneWhichIsNamed() {
    chromium
        .driver()
        .executeCdpCommand("Emulation.setTimezoneOverride", Map.of("timezoneId", "Asia/Tokyo"));
    open("soaks");
    assertThat(chromium.text("#zone")).isEqualTo("Times in GMT+9");
    assertThat(chromium.text("#list tbody")).contains("Mon 2 Mar, 17:00");
    chromium.driver().executeCdpCommand("Emulation.setTimezoneOverride", Map.of("timezoneId", ""));
  }

  private static void clean(String what, Supplier<List<String>> found) {
    await(what).atMost(REDRAWN).untilAsserted(() -> assertThat(found.get()).isEmpty());
  }

  /** As one who was never here before: what a page weighs is not told of what was kept. */
  private static void open(String page) {
    chromium.complaints();
    chromium.driver().executeCdpCommand("Network.clearBrowserCache", Map.of());
    chromium.resize(1366, 900);
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("h1").contains("Asking"));
  }
}

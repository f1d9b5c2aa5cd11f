package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.OnABoard;
import soakbench.RunningService;
import soakbench.WarmUps;

/** Each page while nothing was heard, with few and many trackers, and when its service is gone. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class PageStatesTest extends OnABoard {
  private static final Instant START = RunningService.START;

  private static final Duration LIMITS_ASK_EVERY = Duration.ofSeconds(10);

  private static final List<String> PAGES =
      List.of(
          "",
          "soaks",
          "lots",
          "lots/compare",
          "roster",
          "limits",
          "alarms",
          "ports",
          "sheet",
          "start");

  @Test
  void eachPageSaysWhatToDoWhereThereIsNothingAndHowOldItIsWhereNobodyAnswers() throws Exception {
    for (String page : PAGES) {
      open(page);
      assertThat(chromium.text("main").length())
          .as("words of an empty /%s", page)
          .isGreaterThan(40);
      assertThat(chromium.complaints()).as("/" + page).isEmpty();
    }
    service.post(WarmUps.lines("Old-1", START, 0, 120, 20, 31));
    List<String> pages = new ArrayList<>(PAGES);
    pages.add("tracker/Old-1");
    List<String> tabs = new ArrayList<>();
    for (String page : pages) {
      tabs.add(chromium.openTab());
      open(page);
    }
    service.close();
    for (int i = 0; i < tabs.size(); i++) {
      chromium.driver().switchTo().window(tabs.get(i));
      await("/" + pages.get(i) + " is old")
          .atMost(LIMITS_ASK_EVERY.multipliedBy(4))
          .until(
              () ->
                  String.join(" ", chromium.texts(".notice"))
                      .matches(".*(No answer from|Connection to) the service.*(ago|old).*"));
    }
  }

  @ParameterizedTest
  @Tag("bench")
  @ValueSource(ints = {1, 12, 40, 120})
  void eachPageFitsEachScreenInLightAndDarkWithSoMany(int count) throws Exception {
    StringBuilder lines = new StringBuilder();
    StringBuilder roster = new StringBuilder("id,name,lot,rack,slot\n");
    for (int i = 1; i <= count; i++) {
      roster.append("P-%d,Unit %d,K1%d,bench %d,S%d%n".formatted(i, i, i % 3, i % 2, i));
      lines.append(WarmUps.lines("P-" + i, START, 0, 90, 20 + i % 10, 24 + i % 9));
    }
    service.roster(roster.toString());
    service.post(lines.toString());
    List<String> pages = new ArrayList<>(PAGES);
    pages.add("tracker/P-1");
    pages.add("soak/P-1@20260302T080000000Z/report");
    for (String scheme : List.of("light", "dark")) {
      chromium.scheme(scheme);
      for (String page : pages) {
        open(page);
        for (int width : new int[] {390, 1366, 1920}) {
          chromium.resize(width, 900);
          await("/%s with %d at %d px, %s".formatted(page, count, width, scheme))
              .atMost(PATIENCE)
              .until(() -> chromium.<Long>ask("document.documentElement.scrollWidth") <= width);
        }
        assertThat(chromium.complaints()).as("/" + page).isEmpty();
      }
    }
    chromium.scheme("light");
  }

  private void open(String page) {
    chromium.complaints();
    chromium.resize(1366, 900);
    chromium.driver().get(service.url() + page);
    await().atMost(PATIENCE).until(() -> !chromium.text("h1").contains("Asking"));
  }
}

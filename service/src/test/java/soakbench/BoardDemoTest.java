package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import soakbench.cli.Asked;
import soakbench.cli.Serving;

/** The demo with nobody at its board, on the screen of a laptop. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
@Timeout(300)
class BoardDemoTest {
  private static final Duration PATIENCE = Duration.ofSeconds(120);
  private static final String BOARD = "board at ";

  /** Twenty seconds of two hundred: past the ten minutes that somebody watches at thirty. */
  private static final int WATCHED_S = 20;

  /** At least; and until the service has called one for a while. */
  private static final int SHORTLY_S = 7;

  private static final int LOOKS_A_SECOND = 4;

  /** An event a second, and the page is drawn twice a second. */
  private static final int HEARD_AFTER_LOOKS = 2 * LOOKS_A_SECOND;

  /** The same beside other programs of tests. */
  private static final int HEARD_AFTER_LOOKS_LOADED = 5 * LOOKS_A_SECOND;

  /**
   * Of all that call, those that do not stand large above the fold: in the answer, in heat above
   * it, or in the row below it. The others would have to be looked for.
   */
  private static final String NOT_ABOVE_THE_FOLD =
      "(() => { const seen = [...document.querySelectorAll('#headline, #heat .alarm-what,"
          + " #heat .alarm-more, .call b')].filter(e => e.getBoundingClientRect().bottom <="
          + " innerHeight && e.checkVisibility()).map(e => e.textContent).join(' ');"
          + " return [...document.querySelectorAll('.tile[data-calls] .name')].map(e =>"
          + " e.textContent).filter(name => !seen.includes(name)); })()";

  private static Chromium chromium;

  @TempDir private Path folder;

  @BeforeAll
  static void open() {
    chromium = Chromium.start();
    chromium.resize(1366, 768);
  }

  @AfterAll
  static void close() {
    chromium.close();
  }

  @Test
  void theAnswerAndAllThatCallStandAboveTheFold() throws Exception {
    stayAboveTheFold(SHORTLY_S, HEARD_AFTER_LOOKS_LOADED);
  }

  @Test
  @Tag("bench")
  void theAnswerAndAllThatCallStayAboveTheFold() throws Exception {
    stayAboveTheFold(WATCHED_S, HEARD_AFTER_LOOKS);
  }

  /** Whom the service says to take, first or later. */
  private static List<String> inOrder(Asked asked) throws Exception {
    List<String> trackers = new ArrayList<>();
    for (JsonNode tracker : asked.json("/api/readiness?limit=100").get("trackers")) {
      if (tracker.path("order").isNumber()) {
        trackers.add(tracker.get("tracker").asText());
      }
    }
    return trackers;
  }

  private void stayAboveTheFold(int seconds, int heardAfterLooks) throws Exception {
    try (Serving demo =
        Serving.command(folder.resolve("said"), "demo", "--speed", "200", "--port", "0")) {
      demo.awaitSaid("stop with Ctrl-C");
      String board =
          demo.text()
              .lines()
              .filter(l -> l.startsWith(BOARD))
              .findFirst()
              .orElseThrow()
              .substring(BOARD.length());
      chromium.complaints();
      chromium.driver().get(board);
      await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() >= 10);
      Asked asked = new Asked(URI.create(board));
      Set<String> wanted = Set.of();
      int wantedFor = 0;
      int called = 0;
      int named = 0;
      long patientUntil = System.nanoTime() + PATIENCE.toNanos();
      int looks = seconds * LOOKS_A_SECOND;
      for (int look = 0; look < looks || named == 0 && System.nanoTime() < patientUntil; look++) {
        Thread.sleep(1_000 / LOOKS_A_SECOND);
        String answer = chromium.ask("document.getElementById('headline').textContent");
        assertThat(answer).isNotEmpty().doesNotContain("Asking");
        if (wantedFor > heardAfterLooks) {
          assertThat(answer).as("the service calls " + wanted).doesNotContain("None ready");
          named++;
        }
        if (look < looks) {
          assertThat(chromium.<List<String>>ask(NOT_ABOVE_THE_FOLD)).isEmpty();
        }
        called += chromium.all(".tile[data-calls]").size();
        Set<String> still = new TreeSet<>(inOrder(asked));
        still.retainAll(wantedFor == 0 ? still : wanted);
        wantedFor = still.isEmpty() ? 0 : wantedFor + 1;
        wanted = still;
      }
      assertThat(called).as("some did call").isPositive();
      assertThat(named).as("looks at which the service had called one for a while").isPositive();
      assertThat(chromium.complaints()).isEmpty();
    }
    chromium.driver().get("about:blank");
  }
}

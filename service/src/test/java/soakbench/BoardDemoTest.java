package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import soakbench.cli.Serving;

/** The demo with nobody at its board, on the screen of a laptop. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
@Timeout(300)
class BoardDemoTest {
  private static final Duration PATIENCE = Duration.ofSeconds(120);
  private static final String BOARD = "board at ";

  /** Twenty seconds of two hundred: past the ten minutes that somebody watches at thirty. */
  private static final int WATCHED_S = 20;

  private static final int SHORTLY_S = 5;

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
    stayAboveTheFold(SHORTLY_S);
  }

  @Test
  @Tag("bench")
  void theAnswerAndAllThatCallStayAboveTheFold() throws Exception {
    stayAboveTheFold(WATCHED_S);
  }

  private void stayAboveTheFold(int seconds) throws Exception {
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
      chromium.driver().get(board);
      await().atMost(PATIENCE).until(() -> chromium.all(".tile").size() >= 10);
      int called = 0;
      for (int s = 0; s < seconds; s++) {
        Thread.sleep(1_000);
        assertThat(chromium.<String>ask("document.getElementById('headline').textContent"))
            .isNotEmpty()
            .doesNotContain("Asking");
        assertThat(chromium.<List<String>>ask(NOT_ABOVE_THE_FOLD)).isEmpty();
        called += chromium.all(".tile[data-calls]").size();
      }
      assertThat(called).as("some did call").isPositive();
      assertThat(chromium.complaints()).isEmpty();
    }
    chromium.driver().get("about:blank");
  }
}

package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.sql.Connection;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** The board, in a real browser, while one of the answers that it asks for takes its time. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardSlowAnswerTest extends OnABoard {
  private static final Instant START = RunningService.START;

  private DatabaseSettings settings;

  @Override
  @BeforeEach
  void serve() {
    settings = SharedServer.empty();
    database = Database.open(settings);
    service = RunningService.start(database, 0);
    chromium.resize(1920, 1080);
  }

  @Test
  void heatThatIsToldWhileAnotherAnswerIsAwaitedIsShownAtOnceAndStays() throws Exception {
    service.post(WarmUps.lines("Slow-1", START, 0, 300, 24, 31));
    service.calibratedNow("Slow-1");
    openBoard();
    await().atMost(PATIENCE).until(() -> marked());
    try (Connection connection = SharedServer.connect(settings);
        Statement statement = connection.createStatement()) {
      connection.setAutoCommit(false);
      statement.execute("LOCK TABLE derived, calibration_said IN ACCESS EXCLUSIVE MODE");
      openBoard();
      await().atMost(PATIENCE).until(() -> answered("api/alarms") && answered("api/readiness"));
      service.post(WarmUps.lines("Slow-1", START, 300, 900, 31, 55));
      await().atMost(PATIENCE).until(() -> chromium.all("#heat .alarm").size() == 1);
      await().atMost(PATIENCE).until(() -> chromium.texts(".word").equals(List.of("hot")));
      connection.rollback();
    }
    await().atMost(PATIENCE).until(() -> marked());
    assertThat(chromium.texts(".word")).containsExactly("hot");
    assertThat(chromium.texts("#heat .alarm-what")).containsExactly("Hot: Slow-1");
  }

  private static boolean marked() {
    return chromium.all(".calibration-text").stream().anyMatch(e -> e.isDisplayed());
  }

  /** Whether the page has the whole answer of this call. */
  private static boolean answered(String call) {
    return chromium.ask(
        "performance.getEntriesByType('resource').some(e => e.name.endsWith('/"
            + call
            + "') && e.responseEnd > 0)");
  }

  private void openBoard() {
    chromium.driver().get(service.url().toString());
  }
}

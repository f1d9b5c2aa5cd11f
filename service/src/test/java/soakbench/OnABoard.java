package soakbench;

import java.time.Duration;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/**
 * A real browser for a class of tests; for each a service on a database, and so a board, of its
 * own.
 */
public abstract class OnABoard {
  protected static final Duration PATIENCE = Duration.ofSeconds(20);

  protected static Chromium chromium;

  protected Database database;
  protected RunningService service;

  @BeforeAll
  static void open() {
    chromium = Chromium.start();
  }

  @AfterAll
  static void close() {
    chromium.close();
  }

  @BeforeEach
  void serve() {
    database = Database.open(SharedServer.empty());
    service = RunningService.start(database, 0);
    chromium.resize(1920, 1080);
  }

  @AfterEach
  void stop() {
    chromium.driver().get("about:blank");
    service.close();
    database.close();
  }
}

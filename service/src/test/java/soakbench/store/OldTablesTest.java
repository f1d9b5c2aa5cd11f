package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Statement;
import java.time.Instant;
import java.util.Set;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.DeclaredRates;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Rates;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.EmbeddedServer;

/** Data folders that an earlier program wrote. */
@Timeout(90)
class OldTablesTest {
  private static final String SOAK = "A-1@20260301T080000000Z";

  @TempDir Path folder;

  /** The tables as the first release made them, with one soak. */
  private void firstRelease() throws Exception {
    tables("1");
  }

  /** The tables as a release made them, with one soak and what else there was. */
  private void tables(String version, String... more) throws Exception {
    EmbeddedServer server = EmbeddedServer.start(folder);
    try (server) {
      Flyway.configure()
          .dataSource(server.address().dataSource(0))
          .locations("classpath:migrations/common")
          .target(version)
          .load()
          .migrate();
      try (Connection connection = server.address().dataSource(0).getConnection();
          Statement statement = connection.createStatement()) {
        statement.execute(
            "INSERT INTO soak VALUES ('"
                + SOAK
                + "', 'A-1', '2026-03-01T08:00:00Z', '2026-03-01T08:30:00Z', 18000, 'silence')");
        for (String sql : more) {
          statement.execute(sql);
        }
      }
    }
  }

  @Test
  void soaksOfBeforeWhatWasToldWasKeptTakeWhatTheRosterSaysFromTheirStart() throws Exception {
    tables(
        "7",
        "INSERT INTO tracker VALUES ('A-1', 'A-1', '', '', '', '', '', 'usb', 'corrected', 0, '')",
        "INSERT INTO soak_terms VALUES ('" + SOAK + "', '{}', NULL, NULL, NULL)");
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      assertThat(database.archive().terms(SOAK).orElseThrow().rates())
          .containsExactly(
              new DeclaredRates(
                  Instant.parse("2026-03-01T08:00:00Z").getEpochSecond(), Rates.UNKNOWN));
    }
  }

  /** What a check of before told of such a tracker is found again, as something to be derived. */
  @Test
  void whatWasSaidToCorrectWithoutSayingHowIsNotKnownAnyMore() throws Exception {
    tables(
        "15",
        "INSERT INTO tracker VALUES ('A-1', 'Alder', '', '', '', '', '', 'usb', 'corrected', 0,"
            + " '')",
        "INSERT INTO tracker VALUES ('A-2', 'Rowan', '', '', '', '', '', 'usb', 'raw', 0, '')",
        "INSERT INTO soak_terms VALUES ('"
            + SOAK
            + "', '{}', NULL, NULL, NULL, '[{\"from_second\": 5, \"rates\": \"corrected\"},"
            + " {\"from_second\": 9, \"rates\": \"raw\"}]')",
        "INSERT INTO derived (kind, soak, version, basis, heard, waits, content)"
            + " VALUES ('calibrations', '"
            + SOAK
            + "', 2, '{\"rates\": \"corrected\"}', '', false, '[{\"check\": {\"rates\":"
            + " \"CORRECTED\"}}]')");
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      assertThat(database.roster().all())
          .extracting(Tracker::rates)
          .containsExactly(Rates.UNKNOWN, Rates.RAW);
      assertThat(database.archive().terms(SOAK).orElseThrow().rates())
          .containsExactly(new DeclaredRates(5, Rates.UNKNOWN), new DeclaredRates(9, Rates.RAW));
      assertThat(database.calibrationTable().of("A-1")).isEmpty();
      assertThat(database.calibrations().outdated(CalibrationDeriver.VERSION, 9, Set.of()))
          .containsExactly(SOAK);
      assertThat(database.calibrations().input(SOAK).orElseThrow().rates())
          .isEqualTo(Rates.UNKNOWN);
    }
  }

  @Test
  void soaksOfBeforeTermsWereKeptGetTheLimitsInForceAtTheFirstStart() throws Exception {
    firstRelease();
    try (Database database = Database.open(DatabaseSettings.embedded(folder))) {
      assertThat(database.archive().soak(SOAK)).isPresent();
      assertThat(database.archive().terms(SOAK)).isEmpty();
      new SoakWatch(database.soakStore(), null, () -> 0).restore();
      assertThat(database.archive().terms(SOAK)).contains(SoakTerms.of(Limits.DEFAULT));
      assertThat(database.archive().limitsHistory(10)).hasSize(1);
    }
  }
}

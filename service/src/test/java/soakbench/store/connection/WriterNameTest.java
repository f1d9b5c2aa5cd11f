package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

class WriterNameTest {
  private static final DatabaseSettings SETTINGS = SharedServer.empty();

  private static Writer read(String name, String address, String opened) throws SQLException {
    try (Connection connection = SharedServer.connect(SETTINGS)) {
      return Query.first(
              connection,
              WriterName::read,
              "SELECT ?::text, ?::text, ?::timestamptz",
              name,
              address,
              opened)
          .orElseThrow();
    }
  }

  @Test
  void thisProgramsNameReadsBackAsThisProgram() throws SQLException {
    Writer writer = read(WriterName.ofThis(), "10.0.0.2", null);
    assertThat(writer.isThisProgram()).isTrue();
    assertThat(writer.died()).isFalse();
    assertThat(writer.since()).isCloseTo(Instant.now(), within(60, ChronoUnit.SECONDS));
  }

  /**
   * PostgreSQL cuts application_name to 63 bytes (NAMEDATALEN - 1); a pid has at most 10 digits.
   */
  @Test
  void theServerCutsNothingOffEvenOfTheLongestName() {
    String[] parts = WriterName.ofThis().split(" ");
    assertThat(parts[0].length() + 1 + 24 + 1 + 10 + 1 + parts[3].length()).isLessThanOrEqualTo(63);
  }

  @Test
  void hostProcessAndTimeAreTold() throws SQLException {
    Writer writer = read("soakbench-writer bench-2 4711 1772352000", "10.0.0.2", null);
    assertThat(writer)
        .isEqualTo(new Writer("bench-2", 4711, Instant.parse("2026-03-01T08:00:00Z")));
    assertThat(writer.words()).isEqualTo("process 4711 on bench-2, since 2026-03-01T08:00:00Z");
    assertThat(writer.isThisProgram()).isFalse();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "some tool", "other-writer bench-2 4711 1772352000"})
  void aStrangerIsKnownByItsAddressAndWhenItCame(String name) throws SQLException {
    Writer writer = read(name, "10.0.0.2", "2026-03-01T08:00:00.5Z");
    assertThat(writer)
        .isEqualTo(new Writer("10.0.0.2", 0, Instant.parse("2026-03-01T08:00:00.5Z")));
    assertThat(writer.words()).isEqualTo("a process on 10.0.0.2, since 2026-03-01T08:00:00Z");
    assertThat(writer.died()).isFalse();
  }

  @Test
  void oneThatMayNotBeSeenIsStillSomebody() throws SQLException {
    Writer writer = read(null, null, null);
    assertThat(writer.host()).isEqualTo("an unknown computer");
    assertThat(writer.since()).isCloseTo(Instant.now(), within(60, ChronoUnit.SECONDS));
  }
}

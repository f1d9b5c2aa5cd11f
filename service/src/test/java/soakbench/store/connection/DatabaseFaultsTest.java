package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.zaxxer.hikari.HikariDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.StoreException;
import soakbench.store.SharedServer;
import soakbench.store.server.ServerAddress;

class DatabaseFaultsTest {
  @ParameterizedTest
  @ValueSource(strings = {"08006", "08001", "57P01", "57P03", "53100", "53300", "40P01", "55P03"})
  void waitingMayHelp(String state) {
    assertThat(fault(state).transientFault()).isTrue();
  }

  @ParameterizedTest
  @ValueSource(strings = {"23505", "22003", "42P01", "42501", "25P02", ""})
  void waitingDoesNotHelp(String state) {
    assertThat(fault(state).transientFault()).isFalse();
  }

  @Test
  void aFullDiskIsNamed() {
    assertThat(fault("53100"))
        .hasMessage(
            "the database's disk is full while writing samples (no space); free space on it");
  }

  @Test
  void anEmptyPoolIsTransient() {
    SQLException timeout = new SQLTransientConnectionException("timed out after 3000 ms");
    assertThat(DatabaseFaults.of("writing samples", timeout).transientFault()).isTrue();
  }

  /** By the pool's own connection, so that another word of the library is noticed here. */
  @Test
  void aConnectionThatThePoolClosedIsLost() throws SQLException {
    try (HikariDataSource pool = new HikariDataSource()) {
      pool.setDataSource(ServerAddress.of(SharedServer.empty()).dataSource(10));
      Connection connection = pool.getConnection();
      connection.close();
      assertThatThrownBy(() -> connection.prepareStatement("SELECT 1"))
          .isInstanceOfSatisfying(
              SQLException.class,
              fault -> {
                StoreException told = DatabaseFaults.of("reading bins", fault);
                assertThat(told.transientFault()).isTrue();
                assertThat(told).hasMessageStartingWith("the connection to the database was lost");
              });
    }
  }

  private static StoreException fault(String state) {
    return DatabaseFaults.of("writing samples", new SQLException("no space\n  Where: COPY", state));
  }
}

package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.store.connection.Query;

/** Our own server keeps data safe and keeps strangers out. */
class EmbeddedServerTest {
  @TempDir static Path temp;
  private static Path folder;
  private static EmbeddedServer server;

  @BeforeAll
  static void start() {
    folder = temp.resolve("data");
    server = EmbeddedServer.start(folder);
  }

  @AfterAll
  static void stop() throws Exception {
    server.close();
  }

  @ParameterizedTest
  @CsvSource({
    "fsync, on",
    "synchronous_commit, on",
    "full_page_writes, on",
    "listen_addresses, 127.0.0.1",
    "unix_socket_directories, ''",
    "max_connections, 40",
    "password_encryption, scram-sha-256",
    "server_encoding, UTF8"
  })
  void everySettingThatKeepsDataSafeIsOn(String setting, String value) throws SQLException {
    assertThat(one("SHOW " + setting)).isEqualTo(value);
  }

  @Test
  void everyWayInAsksForThePassword() throws SQLException {
    assertThat(one("SELECT string_agg(DISTINCT auth_method, ',') FROM pg_hba_file_rules"))
        .isEqualTo("scram-sha-256");
  }

  @Test
  void nobodyGetsInWithoutThePassword() {
    assertThat(stateWith("wrong")).isEqualTo("28P01");
    assertThat(stateWith(null)).isEqualTo("08004");
  }

  @Test
  void folderAndPasswordAreTheOwnersAlone() throws Exception {
    assertThat(permissions(folder)).isEqualTo("rwx------");
    assertThat(permissions(folder.resolve("password"))).isEqualTo("rw-------");
    assertThat(permissions(folder.resolve("postgres"))).isEqualTo("rwx------");
    assertThat(Files.readString(folder.resolve("password"))).hasSizeGreaterThanOrEqualTo(40);
  }

  @Test
  void noTraceOfTheFirstStartIsLeft() {
    assertThat(folder.resolve("first-start-unfinished")).doesNotExist();
  }

  @Test
  void anotherOpeningInThisProcessIsRefused() {
    assertThatThrownBy(() -> EmbeddedServer.start(folder))
        .hasMessage(
            "the data folder %s is in use by another copy of Soakbench (process %d, this one); %s",
            folder, ProcessHandle.current().pid(), "stop it or choose another with --data");
  }

  private static String one(String sql) throws SQLException {
    try (Connection connection = server.address().dataSource(10).getConnection();
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getString(1);
    }
  }

  private static String stateWith(String password) {
    ServerAddress right = server.address();
    ServerAddress wrong = new ServerAddress(right.url(), right.user(), password);
    return catchThrowableOfType(
            SQLException.class, () -> wrong.dataSource(10).getConnection().close())
        .getSQLState();
  }

  private static String permissions(Path path) throws Exception {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
  }

  @ParameterizedTest
  @CsvSource({
    "tcp_keepalives_idle, 6",
    "tcp_keepalives_interval, 4",
    "tcp_keepalives_count, 3",
    "jit, off",
    "random_page_cost, 1.1",
    "tcp_user_timeout, 18000"
  })
  void everyConnectionHasTheServerNoticeAComputerThatVanishes(String setting, String value)
      throws SQLException {
    try (Connection connection = server.address().dataSource(10).getConnection()) {
      assertThat(Query.list(connection, rows -> rows.getString(1), "SHOW " + setting))
          .containsExactly(value);
    }
  }
}

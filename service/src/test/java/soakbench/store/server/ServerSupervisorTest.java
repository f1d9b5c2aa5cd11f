package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.connection.Retries;

/** Our own server, killed under the program that goes on. */
@Timeout(180)
class ServerSupervisorTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  @TempDir Path folder;

  @Test
  void aServerThatIsKilledIsStartedAgainAndNothingCommittedIsLost() throws Exception {
    try (Database database = Database.open(DatabaseSettings.embedded(ReadyFolder.in(folder)))) {
      write(database, 0, 100);
      ProcessHandle first = server();
      first.destroyForcibly();
      first.onExit().get();
      awaitAnother(database, first);
      assertThat(freshOf(database, 0, 200)).isEqualTo(100);
      ProcessHandle second = server();
      killAll(second);
      awaitAnother(database, second);
      assertThat(freshOf(database, 0, 300)).isEqualTo(100);
    }
    assertThat(folder.resolve("postgres/postmaster.pid")).doesNotExist();
  }

  @Test
  void aServerThatCanNotStartYetIsTriedUntilItDoes() throws Exception {
    try (Database database = Database.open(DatabaseSettings.embedded(ReadyFolder.in(folder)))) {
      write(database, 0, 100);
      Path control = folder.resolve("postgres/global/pg_control");
      Path aside = folder.resolve("pg_control.aside");
      ProcessHandle first = server();
      Files.move(control, aside);
      killAll(first);
      Path log = folder.resolve("postgres.log");
      Awaitility.await()
          .atMost(PATIENCE)
          .until(() -> Files.exists(log) && Files.readString(log).contains("pg_control"));
      assertThat(database.health().ok()).isFalse();
      Files.move(aside, control);
      awaitAnother(database, first);
      assertThat(freshOf(database, 0, 200)).isEqualTo(100);
    }
  }

  private ProcessHandle server() throws Exception {
    return OrphanServer.running(folder.toRealPath().resolve("postgres"));
  }

  private static void killAll(ProcessHandle server) throws Exception {
    List<ProcessHandle> all = Stream.concat(server.descendants(), Stream.of(server)).toList();
    all.forEach(ProcessHandle::destroyForcibly);
    server.onExit().get();
  }

  private void awaitAnother(Database database, ProcessHandle before) {
    Awaitility.await().atMost(PATIENCE).until(() -> database.health().ok());
    Awaitility.await()
        .atMost(PATIENCE)
        .ignoreExceptions()
        .until(() -> server().pid() != before.pid());
  }

  private static void write(Database database, int from, int to) {
    freshOf(database, from, to);
  }

  private static int freshOf(Database database, int from, int to) {
    try (Unit unit = Retries.untilThere(database.soakStore()::begin)) {
      int fresh = unit.writeSamples(Samples.samples("A-1", from, to)).fresh().size();
      unit.commit();
      return fresh;
    }
  }
}

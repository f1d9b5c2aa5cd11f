package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.file.Path;
import java.time.Duration;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.connection.Retries;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.EmbeddedServer;
import soakbench.store.server.ReadyFolder;
import soakbench.store.server.ServerAddress;

/** A server that goes away under a running program and comes back. */
@Timeout(90)
class LostConnectionTest {
  @TempDir Path folder;

  @Test
  void aRestartOfTheServerIsATransientFaultAndThenForgotten() throws Exception {
    EmbeddedServer server = EmbeddedServer.start(ReadyFolder.in(folder));
    ServerAddress address = server.address();
    DatabaseSettings settings =
        DatabaseSettings.url(address.url(), address.user(), address.password());
    try (Database database = Database.open(settings)) {
      Unit unit = database.soakStore().begin();
      unit.writeSamples(Samples.samples("A-1", 0, 10));
      server.close();
      assertTransient(() -> unit.writeSamples(Samples.samples("A-1", 10, 20)));
      unit.close();
      assertTransient(() -> database.soakStore().begin().close());
      assertUnwell(database);
      server = EmbeddedServer.start(folder);
      Awaitility.await().atMost(Duration.ofSeconds(20)).until(() -> database.health().ok());
      try (Unit again = Retries.untilThere(database.soakStore()::begin)) {
        assertThat(again.writeSamples(Samples.samples("A-1", 0, 10)).fresh()).hasSize(10);
        again.commit();
      }
    } finally {
      server.close();
    }
  }

  private static void assertUnwell(Database database) {
    long before = System.nanoTime();
    DatabaseHealth health = database.health();
    assertThat(Duration.ofNanos(System.nanoTime() - before)).isLessThan(Duration.ofSeconds(2));
    assertThat(health.ok()).isFalse();
    assertThat(health.message()).isNotBlank().hasLineCount(1);
  }

  private static void assertTransient(Runnable work) {
    StoreException lost = catchThrowableOfType(StoreException.class, work::run);
    assertThat(lost).isNotNull();
    assertThat(lost.transientFault()).as(lost.getMessage()).isTrue();
    assertThat(lost.getMessage()).hasLineCount(1);
  }
}

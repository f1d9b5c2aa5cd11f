package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.api.http.Json;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ReadyFolder;

/** A whole service whose database server is killed while it reads a rack into a small spool. */
@Timeout(300)
class ServiceAlarmsTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final HttpClient HTTP = HttpClient.newHttpClient();

  @TempDir private Path folder;

  private static JsonNode alarm(URI url, String kind) throws Exception {
    HttpRequest ask = HttpRequest.newBuilder(url.resolve("api/alarms")).build();
    String body = HTTP.send(ask, HttpResponse.BodyHandlers.ofString()).body();
    for (JsonNode alarm : Json.mapper().readTree(body).get("alarms")) {
      if (alarm.get("kind").asText().equals(kind)) {
        return alarm;
      }
    }
    return Json.mapper().createObjectNode();
  }

  private static boolean holds(URI url, String kind, String severity) throws Exception {
    JsonNode alarm = alarm(url, kind);
    return alarm.path("severity").asText().equals(severity) && alarm.path("until").isNull();
  }

  private static boolean ended(URI url, String kind) throws Exception {
    return alarm(url, kind).path("until").isTextual();
  }

  @Test
  void aKilledDatabaseRaisesItsAlarmThenTheSpoolsAndAllEndWhenItIsBack() throws Exception {
    AtomicBoolean printing = new AtomicBoolean(true);
    try (KillableServer server = new KillableServer(ReadyFolder.in(folder.resolve("database")));
        PseudoTerminal device = new PseudoTerminal();
        Service service =
            Service.start(
                DatabaseSettings.url(server.url()),
                ApiSettings.local(0),
                null,
                new MonotonicClock())) {
      RackFile rack = new RackFile("A", List.of(new RackFile.Slot("A1", device.path())));
      service.read(rack, SqliteSpool.open(folder.resolve("spool.db"), 1 << 20));
      Thread printer = printer(device, printing);
      try {
        URI url = service.url();
        await().atMost(PATIENCE).until(() -> !service.watch().readiness().isEmpty());
        assertThat(alarm(url, "database_away").isEmpty()).isTrue();
        server.kill();
        await().atMost(PATIENCE).until(() -> holds(url, "database_away", "severe"));
        await().atMost(PATIENCE).until(() -> holds(url, "spool_filling", "severe"));
        await().atMost(PATIENCE).until(() -> holds(url, "reading_stopped", "severe"));
        assertThat(alarm(url, "spool_filling").get("unit").asText()).isEqualTo("%");
        printing.set(false);
        server.restart();
        for (String kind : List.of("database_away", "spool_filling", "reading_stopped")) {
          await().atMost(PATIENCE).until(() -> ended(url, kind));
        }
      } finally {
        printing.set(false);
        printer.join();
      }
    }
  }

  /** As fast as the port takes lines; what it does not take is dropped. */
  private static Thread printer(PseudoTerminal device, AtomicBoolean printing) {
    Thread thread =
        new Thread(
            () -> {
              for (int seq = 0; printing.get(); seq++) {
                device.write(
                    "{\"id\":\"S-1\",\"seq\":"
                        + seq
                        + ",\"temp_c\":25.5,\"gyro_dps\":[0.31,-0.12,0.05]}\n");
                java.util.concurrent.locks.LockSupport.parkNanos(500_000);
              }
            },
            "printer");
    thread.start();
    return thread;
  }
}

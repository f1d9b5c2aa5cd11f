package soakbench.api.health;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.QuickStop;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** The rack's ports, over a real one. */
class PortTest {
  @TempDir private Path folder;

  @Test
  void thePortsOfTheRackAreToldWithTheLinesThatNeverCame() throws Exception {
    SoakWatch watch = new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> 0);
    try (Database database = Database.open(SharedServer.empty());
        ApiServer server =
            QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, () -> 0));
        PseudoTerminal device = new PseudoTerminal();
        Spool spool = SqliteSpool.open(folder.resolve("spool.db"), 1 << 20)) {
      Http http = new Http(server.url());
      JsonNode none = http.json("/api/ports", "PortList");
      assertThat(none.get("ports")).isEmpty();
      assertThat(none.get("spool").isNull()).isTrue();

      RackFile rack =
          new RackFile(
              "A",
              List.of(
                  new RackFile.Slot("A1", device.path()),
                  new RackFile.Slot("A2", folder.resolve("none").toString())));
      try (Agent agent = new Agent(rack, spool, Destination.of(watch), why -> {})) {
        server.useAgent(agent);
        agent.start();
        await().until(() -> http.json("/api/ports", "PortList").at("/ports/0/open").asBoolean());
        for (int seq : new int[] {1, 2, 3, 6, 7, 8, 11, 10}) {
          device.write("{\"id\":\"P-1\",\"seq\":" + seq + ",\"temp_c\":25.5}\n");
        }
        device.write("chatter\n");
        await()
            .atMost(Duration.ofSeconds(30))
            .until(() -> http.json("/api/ports", "PortList").at("/ports/0/lost").asInt() == 3);
        JsonNode ports = http.json("/api/ports", "PortList");
        JsonNode open = ports.at("/ports/0");
        assertThat(open.get("slot").asText()).isEqualTo("A1");
        assertThat(open.get("trackers").get(0).asText()).isEqualTo("P-1");
        assertThat(open.get("lines").asInt()).isEqualTo(9);
        assertThat(open.get("readings").asInt()).isEqualTo(8);
        assertThat(open.get("rejected").asInt()).isEqualTo(1);
        assertThat(ports.at("/ports/1/open").asBoolean()).isFalse();
        assertThat(ports.at("/ports/1/reason").asText()).contains("does not exist");
        assertThat(ports.at("/ports/1/last_heard").isNull()).isTrue();
        assertThat(ports.at("/spool/limit_bytes").asInt()).isEqualTo(1 << 20);
        assertThat(Http.csv(http.get("/api/ports.csv")))
            .startsWith("slot,port,open,reason,trackers,lines,readings,rejected,lost,")
            .contains("A1," + device.path() + ",true,,P-1,9,8,1,3,");
      }
    }
  }
}

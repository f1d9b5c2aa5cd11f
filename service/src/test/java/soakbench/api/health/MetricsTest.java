package soakbench.api.health;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.QuickStop;
import soakbench.api.Service;
import soakbench.api.alarms.AlarmTest;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** The figures of a service that reads a real port. */
class MetricsTest {
  private static final String OPEN = "application/openmetrics-text; version=1.0.0";

  @TempDir private Path folder;

  private static OpenMetricsReader scrape(Http http) {
    HttpResponse<String> answer = http.get("/metrics", "Accept", OPEN);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue(OPEN + "; charset=utf-8");
    return OpenMetricsReader.read(answer.body());
  }

  @Test
  void figuresTellWhatIsReadStoredJudgedAndWrong() throws Exception {
    try (Database database = Database.open(SharedServer.empty())) {
      SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
      RackFile rack;
      try (ApiServer server =
              QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, () -> 0));
          PseudoTerminal device = new PseudoTerminal();
          Spool spool = SqliteSpool.open(folder.resolve("spool.db"), 1 << 20)) {
        Http http = new Http(server.url());
        OpenMetricsReader none = scrape(http);
        assertThat(none.value("soakbench_spool_used_bytes")).isNaN();
        assertThat(none.value("soakbench_database_up")).isEqualTo(1);
        assertThat(none.withoutHelp()).isEmpty();
        rack = new RackFile("A", List.of(new RackFile.Slot("A \"1\"", device.path())));
        try (Agent agent = new Agent(rack, spool, Destination.of(server.intake()), why -> {})) {
          server.useAgent(agent);
          agent.start();
          String slot = "{slot=\"A \\\"1\\\"\"}";
          await().until(() -> scrape(http).value("soakbench_port_open" + slot) == 1);
          for (int seq : new int[] {1, 2, 3, 6, 7}) {
            device.write(
                "{\"id\":\"M-1\",\"seq\":"
                    + seq
                    + ",\"temp_c\":25.5,"
                    + "\"gyro_dps\":[0.3,0.1,0.2]}\n");
          }
          device.write("chatter\n");
          await()
              .atMost(Duration.ofSeconds(30))
              .until(() -> scrape(http).value("soakbench_lines_total" + slot) == 6);
          await()
              .atMost(Duration.ofSeconds(30))
              .until(
                  () -> scrape(http).value("soakbench_samples_total{outcome=\"accepted\"}") == 5);
          OpenMetricsReader m = scrape(http);
          assertThat(m.value("soakbench_readings_total" + slot)).isEqualTo(5);
          assertThat(m.value("soakbench_lines_rejected_total" + slot)).isEqualTo(1);
          assertThat(m.value("soakbench_spool_limit_bytes")).isEqualTo(1 << 20);
          assertThat(m.value("soakbench_spool_used_bytes")).isBetween(1.0, 1048576.0);
          assertThat(m.value("jvm_memory_used_bytes{area=\"heap\",id=\"" + heap() + "\"}"))
              .isPositive();
        }
        http.send(
            "POST",
            "/api/samples",
            "application/x-ndjson",
            AlarmTest.heating("M-hot", Service.START_US, 60, 46, 46.1));
        OpenMetricsReader m = scrape(http);
        assertThat(m.value("soakbench_trackers{state=\"hot\"}")).isEqualTo(1);
        assertThat(m.value("soakbench_alarms_open{kind=\"hot\"}")).isEqualTo(1);
        assertThat(m.value("soakbench_alarms_open{kind=\"silent\"}")).isZero();
        assertThat(m.value("soakbench_http_requests_total{method=\"POST\",status=\"2xx\"}"))
            .isEqualTo(1);
        assertThat(m.samples()).noneMatch(s -> s.contains("M-hot"));
        assertThat(http.get("/metrics").headers().firstValue("Content-Type"))
            .hasValue("text/plain; version=0.0.4; charset=utf-8");
      }
    }
  }

  @Test
  void statesAndTemperaturesOfSomeTrackersAreToldWhereThatIsAskedForAndHowManyAreNot() {
    try (Database database = Database.open(SharedServer.empty())) {
      SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> Service.START_US);
      ApiSettings two = ApiSettings.local(0).withMetricTrackers(2);
      try (ApiServer server =
          QuickStop.of(ApiServer.start(two, watch, database, () -> Service.START_US))) {
        Http http = new Http(server.url());
        OpenMetricsReader none = scrape(http);
        assertThat(none.value("soakbench_trackers_left_out")).isZero();
        assertThat(none.samples()).noneMatch(s -> s.contains("tracker="));
        String entry = "{\"lot\":\"K \\\"9\\\"\"}";
        http.send("PUT", "/api/trackers/M-2", "application/json", entry);
        heat(http, "M-2", 46);
        heat(http, "M-3", 30);
        assertThat(scrape(http).value("soakbench_trackers_left_out")).isZero();
        heat(http, "M-1", 30);
        OpenMetricsReader m = scrape(http);
        String hot = "{lot=\"K \\\"9\\\"\",state=\"hot\",tracker=\"M-2\"}";
        assertThat(m.value("soakbench_tracker_state" + hot)).isEqualTo(1);
        String of = "{lot=\"K \\\"9\\\"\",tracker=\"M-2\"}";
        assertThat(m.value("soakbench_tracker_temperature_celsius" + of)).isBetween(46.0, 46.1);
        assertThat(m.samples()).filteredOn(s -> s.contains("tracker=")).hasSize(4);
        assertThat(m.samples()).noneMatch(s -> s.contains("M-1"));
        assertThat(m.value("soakbench_trackers_left_out")).isEqualTo(1);
        assertThat(m.withoutHelp()).isEmpty();

        end(http, "M-3");
        OpenMetricsReader then = scrape(http);
        assertThat(then.samples()).noneMatch(s -> s.contains("M-3"));
        assertThat(then.samples()).filteredOn(s -> s.contains("M-1")).hasSize(2);
        assertThat(then.value("soakbench_trackers_left_out")).isZero();
      }
    }
  }

  private static void heat(Http http, String id, double fromC) {
    http.send(
        "POST",
        "/api/samples",
        "application/x-ndjson",
        AlarmTest.heating(id, Service.START_US, 60, fromC, fromC + 0.1));
  }

  private static void end(Http http, String id) {
    String soak = http.json("/api/soaks?tracker=" + id, "SoakList").at("/soaks/0/soak").asText();
    http.send("POST", "/api/soaks/" + soak + "/end", "application/json", "");
  }

  private static String heap() {
    return java.lang.management.ManagementFactory.getMemoryPoolMXBeans().stream()
        .filter(pool -> pool.getType() == java.lang.management.MemoryType.HEAP)
        .filter(pool -> pool.getUsage().getUsed() > 0)
        .findFirst()
        .orElseThrow()
        .getName();
  }
}

package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.lang.reflect.Proxy;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.ApiSettings;
import soakbench.api.samples.UploadLimits;
import soakbench.cli.Main;
import soakbench.cli.Serving;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ReadyFolder;

/** What a start says of itself, and what can happen to it. */
@Timeout(400)
class StartingTest {
  private static final Duration PATIENCE = Duration.ofSeconds(120);

  @TempDir private Path folder;

  @Test
  void aBusyPortIsSaidBeforeTheDatabaseIsTouched() throws Exception {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      StringWriter err = new StringWriter();
      CommandLine line = Main.commandLine().setErr(new PrintWriter(err, true));
      Path data = folder.resolve("data");
      int exit =
          line.execute(
              "serve", "--data", data.toString(), "--port", String.valueOf(taken.getLocalPort()));
      assertThat(exit).isNotZero();
      assertThat(err.toString()).contains("another program has it");
      assertThat(data).doesNotExist();
    }
  }

  @Test
  void untilItIsWellEverybodyHearsWhatItIsDoing() throws Exception {
    try (Service service =
        Service.opened(
            DatabaseSettings.embedded(folder.resolve("data")),
            ApiSettings.local(0),
            null,
            new MonotonicClock(),
            null,
            Role.WRITES)) {
      URI url = service.url();
      HttpResponse<String> health = Serving.get(url.resolve("health"));
      assertThat(health.statusCode()).isEqualTo(503);
      assertThat(health.body()).contains("problem:starting", "The service is starting");
      HttpResponse<String> call = Serving.get(url.resolve("api/readiness"));
      assertThat(call.statusCode()).isEqualTo(503);
      assertThat(call.headers().firstValue("Retry-After")).hasValue("2");
      HttpResponse<String> page =
          Serving.send(HttpRequest.newBuilder(url).header("Accept", "text/html").build());
      assertThat(page.statusCode()).isEqualTo(503);
      assertThat(page.body()).contains("Soakbench is starting", "http-equiv=\"refresh\"");
      List<String> steps = new java.util.ArrayList<>();
      service.begin(steps::add, () -> {});
      assertThat(steps)
          .containsExactly(
              "starting the database", "bringing the tables up to date", "restoring soaks");
      await().atMost(PATIENCE).until(() -> Serving.get(url.resolve("health")).statusCode() == 200);
      assertThat(Serving.get(url.resolve("api/readiness")).statusCode()).isEqualTo(200);
    }
  }

  @Test
  void whoWasHeardBeforeTheStartIsKnownToTheFirstUploadAfterIt() throws Exception {
    DatabaseSettings database = DatabaseSettings.embedded(ReadyFolder.in(folder.resolve("data")));
    try (Service first =
        Service.start(database, ApiSettings.local(0), null, new MonotonicClock())) {
      assertThat(post(first.url(), 0)).contains("\"accepted\":100");
    }
    UploadLimits none = new UploadLimits(Duration.ofMinutes(1), 0, 0, 0);
    List<String> answers = new CopyOnWriteArrayList<>();
    try (Service second =
        Service.opened(
            database,
            ApiSettings.local(0).withUploads(none),
            null,
            new MonotonicClock(),
            null,
            Role.WRITES)) {
      second.begin(step -> {}, () -> answers.add(post(second.url(), 100)));
      assertThat(answers).hasSize(1);
      assertThat(answers.get(0)).contains("\"accepted\":100");
    }
  }

  private static String post(URI url, int from) {
    StringBuilder lines = new StringBuilder();
    Instant start = Instant.now().minusSeconds(60);
    for (int i = from; i < from + 100; i++) {
      lines.append(
          "{\"id\":\"Known-1\",\"time\":\"%s\",\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
              .formatted(start.plusMillis(i * 200L)));
    }
    try {
      return Serving.send(
              HttpRequest.newBuilder(url.resolve("api/samples"))
                  .header("Content-Type", "application/x-ndjson")
                  .POST(HttpRequest.BodyPublishers.ofString(lines.toString()))
                  .build())
          .body();
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void aSignalWhileItStartsLeavesNoServer() throws Exception {
    Path data = folder.resolve("data");
    Serving serving = Serving.start(folder.resolve("said"), "--data", data.toString());
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(5))
        .until(() -> !KillableServer.processesOn(data).isEmpty());
    serving.close();
    assertThat(KillableServer.processesOn(data)).isEmpty();
    assertThat(serving.text()).contains("starting the database").doesNotContain("mistake");
  }

  @Test
  void aServerThatDiesWhileItStartsAndRemainsOfOneAreNoReasonToEnd() throws Exception {
    Path data = folder.resolve("data");
    try (Serving first = Serving.start(folder.resolve("first"), "--data", data.toString())) {
      first.awaitSaid("bringing the tables up to date");
      KillableServer.serverOn(data).ifPresent(ProcessHandle::destroyForcibly);
      first.awaitWell();
      assertThat(first.process.isAlive()).as(first.text()).isTrue();
      // A backend that can't notice that its server has died, and so keeps the shared memory.
      ProcessHandle server = KillableServer.serverOn(data).orElseThrow();
      ProcessHandle backend =
          KillableServer.processesOn(data).stream()
              .filter(p -> p.pid() != server.pid())
              .findAny()
              .orElseThrow();
      Serving.signal(backend, "STOP");
      first.process.destroyForcibly().waitFor();
      server.destroyForcibly();
      server.onExit().get();
    }
    try (Serving second = Serving.start(folder.resolve("second"), "--data", data.toString())) {
      second.awaitWell();
      assertThat(second.process.isAlive()).as(second.text()).isTrue();
    }
    assertThat(KillableServer.processesOn(data)).isEmpty();
  }

  @Test
  void aPortThatIsNotThereIsToldByHealth() throws Exception {
    try (Service service = begun()) {
      service.read(rack(), spool());
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.json(Serving.get(service.url().resolve("health")))
                      .path("trouble")
                      .asText()
                      .startsWith("1 of 1 ports are not open: A1 ("));
    }
  }

  @Test
  void whoClosesItSecondFindsItClosed() throws Exception {
    Path data = folder.resolve("data");
    Service service = begun();
    CyclicBarrier together = new CyclicBarrier(2);
    Callable<Integer> closing =
        () -> {
          together.await();
          service.close();
          return KillableServer.processesOn(data).size();
        };
    ExecutorService both = Executors.newFixedThreadPool(2);
    try {
      for (Future<Integer> left : both.invokeAll(List.of(closing, closing))) {
        assertThat(left.get()).isZero();
      }
    } finally {
      both.shutdown();
    }
  }

  @Test
  void oneThatIsClosedBeforeItBeginsStartsNothing() {
    Path data = folder.resolve("data");
    Service service = opened(data);
    service.close();
    assertThatThrownBy(() -> service.begin(step -> {}, () -> {}))
        .hasMessageContaining("told to stop");
    assertThat(data).doesNotExist();
  }

  @Test
  void whateverFailsWhileItStopsNoServerStays() throws Exception {
    Service service = begun();
    service.read(rack(), failingToClose(spool()));
    service.close();
    assertThat(KillableServer.processesOn(folder.resolve("data"))).isEmpty();
  }

  private Service begun() {
    Service service = opened(ReadyFolder.in(folder.resolve("data")));
    service.begin(step -> {}, () -> {});
    return service;
  }

  private static Service opened(Path data) {
    DatabaseSettings settings = DatabaseSettings.embedded(data);
    return Service.opened(
        settings, ApiSettings.local(0), null, new MonotonicClock(), null, Role.WRITES);
  }

  private RackFile rack() {
    String nowhere = folder.resolve("nowhere").toString();
    return new RackFile("A", List.of(new RackFile.Slot("A1", nowhere)));
  }

  private Spool spool() {
    return SqliteSpool.open(folder.resolve("spool.db"), 1 << 24);
  }

  private static Spool failingToClose(Spool spool) {
    return (Spool)
        Proxy.newProxyInstance(
            Spool.class.getClassLoader(),
            new Class<?>[] {Spool.class},
            (proxy, method, arguments) -> {
              Object answer = method.invoke(spool, arguments);
              if (method.getName().equals("close")) {
                throw new IllegalStateException("a spool that fails to close");
              }
              return answer;
            });
  }
}

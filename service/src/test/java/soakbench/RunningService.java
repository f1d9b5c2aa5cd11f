package soakbench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.atomic.AtomicLong;
import soakbench.api.ApiDependencies;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.QuickStop;
import soakbench.api.health.ServiceStatus;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.spool.Spool;
import soakbench.live.DataClock;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.watch.SoakWatch;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.Limits;
import soakbench.store.Database;

/**
 * The service on this computer, fed over HTTP. Its watch is not restored and knows no tracker of an
 * earlier one, so each has a board of its own.
 */
public final class RunningService implements AutoCloseable {
  public static final Instant START = Instant.parse("2026-03-02T08:00:00Z");

  private static final HttpClient CLIENT = HttpClient.newHttpClient();

  private final ApiServer server;
  private final SoakWatch watch;
  private final AlarmRegistry alarms;
  private final AtomicLong nowUs;

  private RunningService(
      ApiServer server, SoakWatch watch, AlarmRegistry alarms, AtomicLong nowUs) {
    this.server = server;
    this.watch = watch;
    this.alarms = alarms;
    this.nowUs = nowUs;
  }

  /**
   * @param port where to listen; 0 for any free one
   */
  public static RunningService start(Database database, int port) {
    AtomicLong nowUs = new AtomicLong();
    SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, nowUs::get);
    DataClock dates = new DataClock(nowUs::get);
    AlarmRegistry alarms = new AlarmRegistry(dates);
    LiveVerdicts live =
        new LiveVerdicts(watch, new ArrivalWatch(watch::limits, nowUs::get), nowUs::get);
    live.follow(dates);
    live.subscribe(new TrackerAlarms(alarms, nowUs::get));
    ApiServer server =
        QuickStop.of(
            ApiServer.start(
                ApiSettings.local(port),
                new ApiDependencies(
                    watch,
                    live,
                    live.arrivals(),
                    database,
                    nowUs::get,
                    alarms,
                    ServiceStatus.ready())));
    return new RunningService(server, watch, alarms, nowUs);
  }

  /** An agent that reads a rack for this service, whose ports it tells. */
  Agent agent(RackFile rack, Spool spool) {
    Agent agent = new Agent(rack, spool, Destination.of(server.intake()), why -> {});
    server.useAgent(agent);
    return agent;
  }

  /** Raises an alarm now. */
  public void alarm(AlarmCause cause) {
    alarms.report(cause, nowUs.get());
  }

  /** Somebody has seen every alarm that there is. */
  public void seenAll() {
    alarms.all().forEach(alarm -> alarms.acknowledge(alarm.id(), null, nowUs.get()));
  }

  /** The cause of an alarm goes, and half a minute passes. */
  public void alarmOver(Kind kind, String tracker) {
    alarms.gone(kind, tracker, nowUs.get());
    alarms.pass(nowUs.addAndGet(AlarmRegistry.GONE_FOR.toNanos() / 1000));
  }

  /** A second passes. */
  void second() {
    nowUs.addAndGet(1_000_000L);
  }

  /** So much time passes, and these lines come by its end. */
  public void pass(Duration time, String lines) throws IOException, InterruptedException {
    nowUs.addAndGet(time.toNanos() / 1_000);
    post(lines);
    watch.tick();
    alarms.pass(nowUs.get());
  }

  /** Time passes without a sample, long enough that all trackers are silent. */
  public void silence() {
    nowUs.addAndGet(15_000_000L);
    watch.tick();
  }

  public URI url() {
    return server.url();
  }

  /** Sends JSON Lines; all of them must be taken. */
  public void post(String lines) throws IOException, InterruptedException {
    send("POST", "api/samples", "application/x-ndjson", lines);
  }

  /** Finds the calibrations of all soaks that are due, as the program does every few seconds. */
  public void findCalibrations() {
    int found;
    do {
      found = server.calibrations().deriveOutdated();
    } while (found > 0);
  }

  /** Derives the figures of all soaks that are due. */
  public void deriveFigures() {
    int found;
    do {
      found = server.derivers().figures().deriveOutdated();
    } while (found > 0);
  }

  /** Says that a soak's tracker was taken off. */
  void takenOff(String soak) throws IOException, InterruptedException {
    send("POST", "api/soaks/" + soak + "/end", "application/json", "");
  }

  /** What a collection answers. */
  public String get(String path) throws IOException, InterruptedException {
    HttpRequest request = HttpRequest.newBuilder(url().resolve(path)).build();
    return CLIENT.send(request, HttpResponse.BodyHandlers.ofString()).body();
  }

  /** Says what a tracker's firmware takes off its rates. */
  public void rates(String id, String name, String rates) throws IOException, InterruptedException {
    String json = "{\"name\":\"%s\",\"rates\":\"%s\"}".formatted(name, rates);
    send("PUT", "api/trackers/" + id, "application/json", json);
  }

  /** Says that a tracker was calibrated now, as it lies. */
  void calibratedNow(String id) throws IOException, InterruptedException {
    send("POST", "api/trackers/" + id + "/calibrations", "application/json", "{}");
  }

  /** Twelve trackers, cold and warm ones, so that their tiles say different things. */
  void twelve(String prefix) throws IOException, InterruptedException {
    for (int i = 0; i < 12; i++) {
      post(WarmUps.lines(prefix + "-" + i, START, 0, 120 + 20 * i, 20 + i, 24 + 1.5 * i));
    }
  }

  /** Gives a tracker a name and a place. */
  public void roster(String id, String name) throws IOException, InterruptedException {
    String json = "{\"name\":\"" + name.replace("\"", "\\\"") + "\",\"rack\":\"A\",\"slot\":\"3\"}";
    send("PUT", "api/trackers/" + id, "application/json", json);
  }

  /** Takes a roster as a spreadsheet saves it. */
  public void roster(String csv) throws IOException, InterruptedException {
    send("PUT", "api/trackers", "text/csv", csv);
  }

  private void send(String method, String path, String type, String body)
      throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(url().resolve(path))
            .header("Content-Type", type)
            .method(method, HttpRequest.BodyPublishers.ofString(body))
            .build();
    HttpResponse<String> answer = CLIENT.send(request, HttpResponse.BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 299);
  }

  @Override
  public void close() {
    server.close();
  }
}

package soakbench.api;

import io.javalin.Javalin;
import io.javalin.util.JavalinException;
import java.net.URI;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.access.AccessPairing;
import soakbench.api.access.PairingCode;
import soakbench.api.alarms.AlarmLog;
import soakbench.api.alarms.AlarmWebhook;
import soakbench.ingest.Agent;
import soakbench.live.EventClock;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.live.figures.Derivers;
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;

/** The HTTP server for browsers, programs and spreadsheets. */
public final class ApiServer implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(ApiServer.class);

  private final Javalin javalin;
  private final ApiSettings settings;
  private final ApiDependencies dependencies;
  private final AccessPairing pairing;
  private final ApiCalls calls;

  private ApiServer(ApiSettings settings, ApiDependencies dependencies) {
    this.settings = settings;
    this.dependencies = dependencies;
    this.pairing = new AccessPairing(settings.access());
    this.calls = new ApiCalls(settings, dependencies);
    this.javalin =
        Javalin.create(
            config -> {
              WebServer.configure(config, settings, pairing);
              calls.addTo(config, pairing);
            });
  }

  /** Starts it, with alarms about trackers only and without their periodic check. */
  public static ApiServer start(
      ApiSettings settings, SoakWatch watch, Database database, EventClock clock) {
    return start(settings, ApiDependencies.of(watch, database, clock));
  }

  /**
   * Starts it.
   *
   * @throws ApiStartException if the port is taken or may not be used, or there is no such host
   */
  public static ApiServer start(ApiSettings settings, ApiDependencies dependencies) {
    ApiServer server = new ApiServer(settings, dependencies);
    try {
      server.javalin.start();
      return server;
    } catch (JavalinException e) {
      server.calls.close();
      throw ApiStartException.of(settings, e);
    }
  }

  /**
   * Reads what calls and alarms need in memory: which trackers are known, how they are named, what
   * was calibrated. To be called before the first call is answered and the first alarm raised: else
   * an unknown tracker is refused for good, and one that was calibrated and taken off is reported
   * as silent.
   *
   * @throws StoreException if the store does not answer; to be tried again
   */
  public void storeIsOpen() {
    calls.readStore();
    calls.rehearse();
  }

  /** Another service may have changed what people tell, or derived calibrations. */
  public void readTold() {
    calls.readTold();
  }

  /**
   * Where samples go in, from ports as from uploads: the roster's temperature offsets are added
   * there.
   */
  public SampleSink intake() {
    return calls.intake;
  }

  /**
   * Says of one batch of samples why a tracker is none of this service's, but of one for other
   * racks; null where it is.
   *
   * @param rack on which they were read: a tracker that the roster puts on none is put there
   */
  public UnaryOperator<String> elsewhere(String rack) {
    return calls.otherRacks.request(rack, id -> true)::refusal;
  }

  /**
   * Sets the agent that reads the rack: what keeps samples from coming in is shown by {@code
   * /health} and the board, its ports by {@code /api/ports}.
   *
   * @param agent null where the rack is not read any more
   */
  public void useAgent(Agent agent) {
    calls.ingest.use(agent);
  }

  /**
   * Reports in the same places that a rack is not read.
   *
   * @param why without a full stop; null where it is read
   */
  public void readingStopped(String why) {
    calls.ingest.stopped(why);
  }

  /** What is derived from soaks; to be called periodically. */
  public Derivers derivers() {
    return calls.derivers;
  }

  /** Derives the calibrations. */
  public CalibrationDeriver calibrations() {
    return calls.derivers.calibrations();
  }

  /** Names alarms by the names and slots of the roster from now on. */
  public void nameAlarmsOf(AlarmLog log, AlarmWebhook post) {
    log.nameBy(calls.names);
    if (post != null) {
      post.nameBy(calls.names);
    }
  }

  /** The rack of a tracker by the roster; empty where it has none. */
  public String rackOf(String tracker) {
    return calls.names.rackOf(tracker);
  }

  /** The newest calibration of every tracker; to be refreshed periodically. */
  public NewestCalibrations marks() {
    return calls.marks;
  }

  /** The port it listens on. */
  public int port() {
    return javalin.port();
  }

  /** A new code that lets in one phone or browser; empty where no token guards anything. */
  public Optional<PairingCode> newPairingCode() {
    return pairing.newCode(port());
  }

  /** Where a browser on this computer finds it. */
  public URI url() {
    return WebServer.url(settings, port());
  }

  /**
   * Stops taking requests, lets those in flight finish for some seconds, and ends the event
   * clients; an upload ends after the lines that it has passed on.
   */
  @Override
  public void close() {
    dependencies.status().stops();
    try {
      javalin.stop();
    } catch (JavalinException e) {
      LOG.warn("some requests took too long and were cut off; nobody was told that they were done");
    }
  }

  /** For tests: what is routed. */
  public Javalin javalin() {
    return javalin;
  }
}

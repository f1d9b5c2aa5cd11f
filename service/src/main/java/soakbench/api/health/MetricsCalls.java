package soakbench.api.health;

import io.javalin.http.Context;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.jvm.JvmThreadMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.core.instrument.binder.system.UptimeMetrics;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.util.Set;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import soakbench.api.http.CountingSink;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerNames;
import soakbench.ingest.spool.Spool;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.model.AlarmCause;
import soakbench.model.State;
import soakbench.store.Database;
import soakbench.store.room.Room;

/**
 * Figures for a monitoring program: OpenMetrics, or the older text form for who does not ask for
 * it. Labels are states, kinds of alarms, slots of the rack file, methods and classes of status,
 * and trackers only where that was asked for, so their number is bounded.
 */
public final class MetricsCalls {
  static final String OPEN_METRICS = "application/openmetrics-text; version=1.0.0; charset=utf-8";
  private static final String PLAIN = "text/plain; version=0.0.4; charset=utf-8";
  private static final Set<String> METHODS =
      Set.of("GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS");

  private final PrometheusMeterRegistry registry =
      new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
  private final IngestStatus ingest;
  private final PortMetrics ports;
  private TrackerMetrics trackers;

  public MetricsCalls(IngestStatus ingest) {
    this.ingest = ingest;
    ports = new PortMetrics(registry, ingest);
    new JvmMemoryMetrics().bindTo(registry);
    new JvmThreadMetrics().bindTo(registry);
    new ProcessorMetrics().bindTo(registry);
    new UptimeMetrics().bindTo(registry);
    spool("used", "How much of the spool is in use.", "bytes", s -> s.usedBytes());
    spool("limit", "From here on reading stops.", "bytes", s -> s.limitBytes());
    spool("waiting", "Samples in the spool that are not stored yet.", "samples", s -> s.waiting());
    spool("refused", "Samples set aside in the spool.", "samples", s -> s.refused());
  }

  private void spool(String name, String help, String unit, ToDoubleFunction<Spool.Status> part) {
    Gauge.builder(
            "soakbench.spool." + name,
            () -> ingest.spool().map(part::applyAsDouble).orElse(Double.NaN))
        .description(help + " NaN where no rack is read.")
        .baseUnit(unit)
        .register(registry);
  }

  public MetricsCalls watching(LiveVerdicts live) {
    for (State state : State.values()) {
      Gauge.builder(
              "soakbench.trackers",
              () -> live.readiness().stream().filter(r -> r.state() == state).count())
          .description("Trackers with an open soak, by what they do.")
          .tag("state", state.word())
          .register(registry);
    }
    return this;
  }

  /**
   * Tells each tracker's state and temperature too.
   *
   * @param most of so many trackers; 0 for none
   */
  public MetricsCalls trackers(LiveVerdicts live, TrackerNames names, int most) {
    trackers = most == 0 ? null : new TrackerMetrics(registry, live, names, most);
    return this;
  }

  public MetricsCalls alarms(AlarmRegistry alarms) {
    for (AlarmCause.Kind kind : AlarmCause.Kind.values()) {
      Gauge.builder(
              "soakbench.alarms.open",
              () -> alarms.all().stream().filter(a -> a.open() && a.kind() == kind).count())
          .description("Alarms that hold now, by kind.")
          .tag("kind", kind.word())
          .register(registry);
    }
    return this;
  }

  public MetricsCalls database(Database database) {
    Gauge.builder("soakbench.database.up", () -> database.health().ok() ? 1 : 0)
        .description("1 while the database answers, else 0.")
        .register(registry);
    room(database, "soakbench.database.size", Room::databaseBytes, "What the database takes.");
    room(database, "soakbench.database.free", Room::freeBytes, "What is left for it.");
    FunctionCounter.builder(
            "soakbench.samples.too.late", database.retention().dropped(), d -> d.refused())
        .description("Samples refused since the start, as those of their soak were dropped.")
        .register(registry);
    return this;
  }

  /** Not a number until it was looked at, and where that is not known. */
  private void room(Database database, String name, Function<Room, Long> of, String words) {
    Gauge.builder(
            name, () -> database.room().newest().map(of).map(Long::doubleValue).orElse(Double.NaN))
        .description(words)
        .baseUnit("bytes")
        .register(registry);
  }

  public MetricsCalls intake(CountingSink intake) {
    samples("accepted", intake.accepted);
    samples("duplicate", intake.duplicate);
    samples("conflicting", intake.conflicting);
    return this;
  }

  private void samples(String outcome, LongAdder count) {
    FunctionCounter.builder("soakbench.samples", count, LongAdder::doubleValue)
        .description("Samples taken since the start; accepted ones are new and stored.")
        .tag("outcome", outcome)
        .register(registry);
  }

  public void addTo(Routes routes) {
    routes.get("/metrics", this::scrape);
  }

  /** Called after every request. */
  public void count(Context ctx) {
    String method = ctx.method().name();
    Counter.builder("soakbench.http.requests")
        .description("Requests answered since the start.")
        .tag("method", METHODS.contains(method) ? method : "other")
        .tag("status", ctx.statusCode() / 100 + "xx")
        .register(registry)
        .increment();
  }

  /** One at a time: what one reads must not be refreshed by another meanwhile. */
  private synchronized String scraped(String type) {
    ports.refresh();
    if (trackers != null) {
      trackers.refresh();
    }
    return registry.scrape(type);
  }

  private void scrape(Context ctx) {
    String accept = ctx.header("Accept");
    boolean open = accept != null && accept.contains("application/openmetrics-text");
    String type = open ? OPEN_METRICS : PLAIN;
    ctx.header("Vary", "Accept").header("Cache-Control", "no-store").result(scraped(type));
    ctx.contentType(type);
  }
}

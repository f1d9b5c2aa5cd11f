package soakbench.api.health;

import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.ToDoubleFunction;
import soakbench.ingest.source.SourceStatus;

/** The figures of each slot of the rack file; of so many slots at most. */
final class PortMetrics {
  private static final int MOST_SLOTS = 500;

  private final MeterRegistry registry;
  private final IngestStatus ingest;
  private final Set<String> registered = new HashSet<>();
  private final Map<String, SourceStatus> newest = new ConcurrentHashMap<>();

  PortMetrics(MeterRegistry registry, IngestStatus ingest) {
    this.registry = registry;
    this.ingest = ingest;
  }

  /** Reads the slots once for all of their figures. */
  synchronized void refresh() {
    for (SourceStatus source : ingest.ports()) {
      newest.put(source.slot(), source);
      if (registered.size() < MOST_SLOTS && registered.add(source.slot())) {
        add(source.slot());
      }
    }
  }

  private void add(String slot) {
    Gauge.builder("soakbench.port.open", () -> newest.get(slot).open() ? 1 : 0)
        .description("1 while the slot's source is open, else 0.")
        .tag("slot", slot)
        .register(registry);
    count(slot, "soakbench.lines", "Lines read.", s -> s.heard().counts().lines());
    count(
        slot,
        "soakbench.readings",
        "Lines that gave a reading.",
        s -> s.heard().counts().readings());
    count(
        slot,
        "soakbench.lines.rejected",
        "Lines that gave nothing.",
        s -> s.heard().counts().rejectedTotal());
    count(
        slot,
        "soakbench.lines.lost",
        "Lines that never came, by the gaps in the trackers' own counters.",
        s -> s.heard().lost());
    count(
        slot,
        "soakbench.times.unbelieved",
        "Readings whose own time could not be right, so that they got another.",
        s -> s.heard().counts().unbelievedTimes());
  }

  private void count(String slot, String name, String help, ToDoubleFunction<SourceStatus> part) {
    FunctionCounter.builder(name, newest, all -> part.applyAsDouble(all.get(slot)))
        .description(help)
        .tag("slot", slot)
        .register(registry);
  }
}

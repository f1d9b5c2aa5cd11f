package soakbench.api.health;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.MultiGauge;
import io.micrometer.core.instrument.Tags;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import soakbench.api.http.TrackerNames;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.readiness.Readiness;

/**
 * State and temperature of each tracker that soaks; of so many at most, for a monitoring program
 * keeps every label that it ever saw. One that is told is told until its soak ends, and how many
 * are left out is told as well.
 */
final class TrackerMetrics {
  private final LiveVerdicts live;
  private final TrackerNames names;
  private final int most;
  private final MultiGauge states;
  private final MultiGauge temperatures;
  private final Set<String> told = new LinkedHashSet<>();
  private volatile int leftOut;

  TrackerMetrics(MeterRegistry registry, LiveVerdicts live, TrackerNames names, int most) {
    this.live = live;
    this.names = names;
    this.most = most;
    states =
        MultiGauge.builder("soakbench.tracker.state")
            .description("1 for the state in which a tracker with an open soak is.")
            .register(registry);
    temperatures =
        MultiGauge.builder("soakbench.tracker.temperature")
            .description("Newest temperature of a tracker with an open soak.")
            .baseUnit("celsius")
            .register(registry);
    Gauge.builder("soakbench.trackers.left.out", () -> leftOut)
        .description("Trackers with an open soak whose state and temperature are not told here.")
        .register(registry);
  }

  /** Reads all verdicts once for all figures. Not thread-safe. */
  void refresh() {
    List<Readiness> all = live.readiness();
    choose(all.stream().map(Readiness::tracker).sorted().toList());
    leftOut = all.size() - told.size();
    List<Readiness> shown = all.stream().filter(v -> told.contains(v.tracker())).toList();
    states.register(
        shown.stream()
            .map(v -> MultiGauge.Row.of(tags(v).and("state", v.state().word()), 1))
            .collect(Collectors.toList()),
        true);
    temperatures.register(
        shown.stream()
            .filter(v -> v.temperatureC() != null)
            .map(v -> MultiGauge.Row.of(tags(v), v.temperatureC()))
            .collect(Collectors.toList()),
        true);
  }

  /** Whoever was told stays, so that no series begins and ends by another's coming and going. */
  private void choose(List<String> soaking) {
    told.retainAll(Set.copyOf(soaking));
    soaking.stream().filter(t -> !told.contains(t)).limit(most - told.size()).forEach(told::add);
  }

  private Tags tags(Readiness verdict) {
    return Tags.of("tracker", verdict.tracker(), "lot", names.lotOf(verdict.tracker()));
  }
}

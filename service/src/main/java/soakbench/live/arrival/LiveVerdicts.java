package soakbench.live.arrival;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.live.Listener;
import soakbench.live.watch.SoakWatch;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;

/**
 * The current verdicts: those on the soaks, overlaid with what arrives. A tracker that is heard but
 * has no soak that can be judged is included, without a soak; one that only sent recordings of the
 * past is not. Whatever shows or publishes current verdicts reads them here. Thread-safe; reading
 * never blocks.
 */
public final class LiveVerdicts implements Listener {
  private static final Logger LOG = LoggerFactory.getLogger(LiveVerdicts.class);
  private static final long PUBLISH_EVERY_US = 1_000_000;
  private static final double PUBLISH_STEP_C = 0.05;

  private record Published(Readiness verdict, long atUs) {}

  private final SoakWatch watch;
  private final ArrivalWatch arrivals;
  private final EventClock clock;
  private final Map<String, Published> published = new ConcurrentHashMap<>();
  private final Map<String, Long> judgedAsOfUs = new ConcurrentHashMap<>();

  /** When a tracker's newest reading had arrived as its soak was found to be ended. */
  private final Map<String, Long> endedAtHeardUs = new ConcurrentHashMap<>();

  private final List<Listener> listeners = new CopyOnWriteArrayList<>();

  /** Held while publishing, so that listeners are called in order. */
  private final Object publishing = new Object();

  /**
   * Subscribes to the verdicts of a watch.
   *
   * @param clock the one that {@code arrivals} goes by
   */
  public LiveVerdicts(SoakWatch watch, ArrivalWatch arrivals, EventClock clock) {
    this.watch = watch;
    this.arrivals = arrivals;
    this.clock = clock;
    watch.subscribe(this);
  }

  /** Where readings are announced as they arrive. */
  public ArrivalWatch arrivals() {
    return arrivals;
  }

  /** The current verdict of all trackers, by tracker id. */
  public List<Readiness> readiness() {
    Map<String, Readiness> judged =
        watch.readiness().stream().collect(Collectors.toMap(Readiness::tracker, r -> r));
    Set<String> all = new TreeSet<>(judged.keySet());
    all.addAll(arrivals.trackers());
    long nowUs = clock.nowUs();
    return all.stream().flatMap(t -> shown(t, judged.get(t), nowUs).stream()).toList();
  }

  /** The current verdict of one tracker; empty where it has none. */
  public Optional<Readiness> readiness(String tracker) {
    return shown(tracker, watch.readiness(tracker).orElse(null), clock.nowUs());
  }

  /** Trackers that somebody holds and of which a verdict is shown, by tracker id. */
  public List<InHand> inHand() {
    return arrivals.inHand().entrySet().stream()
        .flatMap(e -> readiness(e.getKey()).map(v -> new InHand(e.getValue(), v)).stream())
        .toList();
  }

  /** Whether a tracker sent anything live since this program started. */
  public boolean hears(String tracker) {
    return arrivals.state(tracker).isPresent();
  }

  /** Subscribes to new verdicts: called at once, on the thread that found them. */
  public void subscribe(Listener listener) {
    listeners.add(listener);
  }

  private Optional<Readiness> shown(String tracker, Readiness judged, long nowUs) {
    Optional<ArrivalState> arrived = arrivals.state(tracker);
    if (arrived.isEmpty()) {
      // A recording is never shown as if it were live.
      return arrivals.knows(tracker) ? Optional.empty() : Optional.ofNullable(judged);
    }
    if (judged != null) {
      endedAtHeardUs.remove(tracker);
    } else if (endedAndQuiet(arrived.get()) && !hotAndHeard(arrived.get())) {
      return Optional.empty();
    }
    Published before = published.get(tracker);
    return VerdictOverlay.of(
        arrived.get().ahead(clock.nowUs() - clock.runningUs()),
        judged,
        judgedAsOfUs.containsKey(tracker),
        before == null ? null : before.verdict(),
        nowUs);
  }

  /** Whether it is too hot by what arrives now, whatever became of its soak. */
  private boolean hotAndHeard(ArrivalState arrived) {
    return arrived.heat() != null
        && clock.runningUs() - arrived.heardUs() <= arrived.silentAfterUs();
  }

  /**
   * Whether its soak was ended and nothing came since that was noticed. Readings can't be counted
   * for it: after ten quiet minutes their count begins anew.
   */
  private boolean endedAndQuiet(ArrivalState arrived) {
    String tracker = arrived.tracker();
    return judgedAsOfUs.containsKey(tracker)
        && !watch.isBeginning(tracker)
        && arrived.heardUs() <= endedAtHeardUs.computeIfAbsent(tracker, t -> arrived.heardUs());
  }

  @Override
  public void judged(List<Readiness> verdicts) {
    synchronized (publishing) {
      long nowUs = clock.runningUs();
      List<Readiness> changed = new ArrayList<>();
      for (Readiness verdict : verdicts) {
        Long before = judgedAsOfUs.put(verdict.tracker(), verdict.asOfUs());
        if (before == null || before != verdict.asOfUs()) {
          arrivals.judged(verdict.tracker());
        }
        shown(verdict.tracker(), verdict, clock.nowUs()).ifPresent(changed::add);
      }
      publish(changed, nowUs);
    }
  }

  /**
   * The periodic check: finds what fell silent or hot since, and publishes it. Called twice a
   * second; needs no database and never waits for the writer.
   */
  public void pass() {
    long nowUs = clock.runningUs();
    arrivals.pass(nowUs);
    synchronized (publishing) {
      List<Readiness> now = readiness();
      Set<String> there = now.stream().map(Readiness::tracker).collect(Collectors.toSet());
      published.keySet().retainAll(there);
      forget(there);
      publish(
          now.stream().filter(r -> changed(published.get(r.tracker()), r, nowUs)).toList(), nowUs);
    }
  }

  private void forget(Set<String> there) {
    judgedAsOfUs.keySet().removeIf(t -> !there.contains(t) && !arrivals.knows(t));
    endedAtHeardUs.keySet().retainAll(judgedAsOfUs.keySet());
  }

  private static boolean changed(Published published, Readiness now, long nowUs) {
    if (published == null) {
      return true;
    }
    Readiness before = published.verdict();
    return before.state() != now.state()
        || !Objects.equals(before.soak(), now.soak())
        || kind(before.heat()) != kind(now.heat())
        || nowUs - published.atUs() >= PUBLISH_EVERY_US && warmer(before.temperatureC(), now);
  }

  private static Heat.Kind kind(Heat heat) {
    return heat == null ? null : heat.kind();
  }

  private static boolean warmer(Double beforeC, Readiness now) {
    return now.temperatureC() != null
        && (beforeC == null || Math.abs(now.temperatureC() - beforeC) >= PUBLISH_STEP_C);
  }

  private void publish(List<Readiness> changed, long nowUs) {
    if (changed.isEmpty()) {
      return;
    }
    changed.forEach(r -> published.put(r.tracker(), new Published(r, nowUs)));
    List<Readiness> list = List.copyOf(changed);
    for (Listener listener : listeners) {
      try {
        listener.judged(list);
      } catch (RuntimeException e) {
        LOG.error("a mistake of the program while a verdict was told; the others are told", e);
      }
    }
  }
}

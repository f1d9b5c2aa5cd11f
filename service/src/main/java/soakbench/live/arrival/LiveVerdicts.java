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
import soakbench.live.DataClock;
import soakbench.live.EventClock;
import soakbench.live.Listener;
import soakbench.live.watch.SoakWatch;
import soakbench.model.State;
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

  /** A verdict further from what arrives is one on another time: on a soak of the day before. */
  private static final long OF_NOW_US = 1_800_000_000L;

  private record Published(Readiness verdict, long atUs) {}

  private final SoakWatch watch;
  private final ArrivalWatch arrivals;
  private final EventClock clock;
  private final Map<String, Published> published = new ConcurrentHashMap<>();
  private final Map<String, Long> judgedAsOfUs = new ConcurrentHashMap<>();

  /** When a tracker's newest reading had arrived as its soak was found to be ended. */
  private final Map<String, Long> endedAtHeardUs = new ConcurrentHashMap<>();

  private final List<Listener> listeners = new CopyOnWriteArrayList<>();

  /** Dates what is known by arrival alone, so that it stands beside what is judged. */
  private final DataClock dates;

  /** All that follow the verdicts, that one too. */
  private final List<DataClock> followers = new CopyOnWriteArrayList<>();

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
    this.dates = new DataClock(clock);
    follow(dates);
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
    Moment now = now();
    return all.stream().flatMap(t -> shown(t, judged.get(t), now).stream()).toList();
  }

  /** The current verdict of one tracker; empty where it has none. */
  public Optional<Readiness> readiness(String tracker) {
    return shown(tracker, watch.readiness(tracker).orElse(null), now());
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

  /** Has a clock of the data follow the verdicts on what arrives now. */
  public void follow(DataClock follower) {
    followers.add(follower);
  }

  /** Subscribes to new verdicts: called at once, on the thread that found them. */
  public void subscribe(Listener listener) {
    listeners.add(listener);
  }

  private Moment now() {
    long runningUs = clock.runningUs();
    return new Moment(runningUs, dates.applyAsLong(runningUs), clock.nowUs());
  }

  /** Whether a verdict on a soak is one on what arrives; where nothing does, each is. */
  private boolean isOfNow(Readiness judged) {
    if (arrivals.size() == 0) {
      return true;
    }
    long asOfUs = judged.asOfUs();
    return judged.state() != State.SILENT
        && arrivals
            .state(judged.tracker())
            .filter(a -> a.stampUs() > asOfUs - OF_NOW_US && a.stampUs() < asOfUs + OF_NOW_US)
            .isPresent();
  }

  private Optional<Readiness> shown(String tracker, Readiness judged, Moment now) {
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
        arrived.get().ahead(now.dataUs() - now.runningUs()),
        judged,
        judgedAsOfUs.containsKey(tracker),
        before == null ? null : before.verdict(),
        now);
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
      List<Readiness> ofNow = verdicts.stream().filter(this::isOfNow).toList();
      followers.forEach(follower -> follower.judged(ofNow));
      Moment now = now();
      List<Readiness> changed = new ArrayList<>();
      for (Readiness verdict : verdicts) {
        Long before = judgedAsOfUs.put(verdict.tracker(), verdict.asOfUs());
        if (before == null || before != verdict.asOfUs()) {
          arrivals.judged(verdict.tracker());
        }
        shown(verdict.tracker(), verdict, now).ifPresent(changed::add);
      }
      publish(changed, now.runningUs());
    }
  }

  /**
   * The periodic check: finds what fell silent or hot since, and publishes it. Called twice a
   * second; needs no database and never waits for the writer.
   */
  public void pass() {
    long nowUs = clock.runningUs();
    arrivals.pass(nowUs);
    List<Readiness> ofNow = watch.readiness().stream().filter(this::isOfNow).toList();
    followers.forEach(follower -> follower.update(ofNow));
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

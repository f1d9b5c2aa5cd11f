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
 * The verdicts that are shown: those on the soaks, with what arrives laid over them. A tracker that
 * is heard but has no soak that can be judged is there too, without a soak; one of which only
 * recordings of the past came is not. Whoever shows or tells verdicts of now asks here. For any
 * thread; asking waits for nothing.
 */
public final class LiveVerdicts implements Listener {
  private static final Logger LOG = LoggerFactory.getLogger(LiveVerdicts.class);
  private static final long TOLD_EVERY_US = 1_000_000;
  private static final double TOLD_STEP_C = 0.05;

  private record Told(Readiness verdict, long atUs) {}

  private final SoakWatch watch;
  private final ArrivalWatch arrivals;
  private final EventClock clock;
  private final Map<String, Told> told = new ConcurrentHashMap<>();
  private final Map<String, Long> judgedAsOfUs = new ConcurrentHashMap<>();

  /** When a tracker's newest reading had arrived as its soak was found to be ended. */
  private final Map<String, Long> endedAtHeardUs = new ConcurrentHashMap<>();

  private final List<Listener> listeners = new CopyOnWriteArrayList<>();

  /** Whoever tells, tells alone, so that listeners hear in order. */
  private final Object telling = new Object();

  /**
   * Hears the verdicts of a watch from now on.
   *
   * @param clock the one that {@code arrivals} goes by
   */
  public LiveVerdicts(SoakWatch watch, ArrivalWatch arrivals, EventClock clock) {
    this.watch = watch;
    this.arrivals = arrivals;
    this.clock = clock;
    watch.subscribe(this);
  }

  /** Where readings are told as they arrive. */
  public ArrivalWatch arrivals() {
    return arrivals;
  }

  /** What is shown of all trackers now, by tracker id. */
  public List<Readiness> readiness() {
    Map<String, Readiness> judged =
        watch.readiness().stream().collect(Collectors.toMap(Readiness::tracker, r -> r));
    Set<String> all = new TreeSet<>(judged.keySet());
    all.addAll(arrivals.trackers());
    long nowUs = clock.nowUs();
    return all.stream().flatMap(t -> shown(t, judged.get(t), nowUs).stream()).toList();
  }

  /** What is shown of one tracker now; empty where nothing is. */
  public Optional<Readiness> readiness(String tracker) {
    return shown(tracker, watch.readiness(tracker).orElse(null), clock.nowUs());
  }

  /** Whether anything of now was heard of a tracker since this one runs. */
  public boolean hears(String tracker) {
    return arrivals.standing(tracker).isPresent();
  }

  /** Says who hears of new verdicts from now on: at once, on the thread that found them. */
  public void subscribe(Listener listener) {
    listeners.add(listener);
  }

  private Optional<Readiness> shown(String tracker, Readiness judged, long nowUs) {
    Optional<Arrived> arrived = arrivals.standing(tracker);
    if (arrived.isEmpty()) {
      // Of a recording nothing is shown as if it were now.
      return arrivals.knows(tracker) ? Optional.empty() : Optional.ofNullable(judged);
    }
    if (judged != null) {
      endedAtHeardUs.remove(tracker);
    } else if (endedAndQuiet(arrived.get()) && !hotAndHeard(arrived.get())) {
      return Optional.empty();
    }
    Told before = told.get(tracker);
    return ShownVerdict.of(
        arrived.get().ahead(clock.nowUs() - clock.runningUs()),
        judged,
        judgedAsOfUs.containsKey(tracker),
        before == null ? null : before.verdict(),
        nowUs,
        silentUs());
  }

  private long silentUs() {
    return Math.round(watch.limits().heardWithinS() * 1e6);
  }

  /** Whether it is too hot by what comes of it just now, whatever became of its soak. */
  private boolean hotAndHeard(Arrived arrived) {
    return arrived.heat() != null && clock.runningUs() - arrived.heardUs() <= silentUs();
  }

  /**
   * Whether its soak was ended and nothing came since that was noticed. Readings can't be counted
   * for it: after ten quiet minutes their count begins anew.
   */
  private boolean endedAndQuiet(Arrived arrived) {
    String tracker = arrived.tracker();
    return judgedAsOfUs.containsKey(tracker)
        && !watch.isBeginning(tracker)
        && arrived.heardUs() <= endedAtHeardUs.computeIfAbsent(tracker, t -> arrived.heardUs());
  }

  @Override
  public void judged(List<Readiness> verdicts) {
    synchronized (telling) {
      long nowUs = clock.runningUs();
      List<Readiness> news = new ArrayList<>();
      for (Readiness verdict : verdicts) {
        Long before = judgedAsOfUs.put(verdict.tracker(), verdict.asOfUs());
        if (before == null || before != verdict.asOfUs()) {
          arrivals.judged(verdict.tracker());
        }
        shown(verdict.tracker(), verdict, clock.nowUs()).ifPresent(news::add);
      }
      tell(news, nowUs);
    }
  }

  /**
   * Lets time pass: finds who fell silent or hot since, and tells it. Called twice a second; needs
   * no database and waits for nobody who writes.
   */
  public void pass() {
    long nowUs = clock.runningUs();
    arrivals.pass(nowUs);
    synchronized (telling) {
      List<Readiness> now = readiness();
      Set<String> there = now.stream().map(Readiness::tracker).collect(Collectors.toSet());
      told.keySet().retainAll(there);
      forget(there);
      tell(now.stream().filter(r -> news(told.get(r.tracker()), r, nowUs)).toList(), nowUs);
    }
  }

  private void forget(Set<String> there) {
    judgedAsOfUs.keySet().removeIf(t -> !there.contains(t) && !arrivals.knows(t));
    endedAtHeardUs.keySet().retainAll(judgedAsOfUs.keySet());
  }

  private static boolean news(Told told, Readiness now, long nowUs) {
    if (told == null) {
      return true;
    }
    Readiness before = told.verdict();
    return before.state() != now.state()
        || !Objects.equals(before.soak(), now.soak())
        || kind(before.heat()) != kind(now.heat())
        || nowUs - told.atUs() >= TOLD_EVERY_US && warmer(before.temperatureC(), now);
  }

  private static Heat.Kind kind(Heat heat) {
    return heat == null ? null : heat.kind();
  }

  private static boolean warmer(Double beforeC, Readiness now) {
    return now.temperatureC() != null
        && (beforeC == null || Math.abs(now.temperatureC() - beforeC) >= TOLD_STEP_C);
  }

  private void tell(List<Readiness> news, long nowUs) {
    if (news.isEmpty()) {
      return;
    }
    news.forEach(r -> told.put(r.tracker(), new Told(r, nowUs)));
    List<Readiness> list = List.copyOf(news);
    for (Listener listener : listeners) {
      try {
        listener.judged(list);
      } catch (RuntimeException e) {
        LOG.error("a mistake of the program while a verdict was told; the others are told", e);
      }
    }
  }
}

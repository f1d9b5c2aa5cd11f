package soakbench.api.events;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.http.Json;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.api.readiness.ReadinessOrder;
import soakbench.api.readiness.ReadinessTable;
import soakbench.host.Daemons;
import soakbench.live.Listener;
import soakbench.live.arrival.InHand;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.readiness.Readiness;

/**
 * Publishes new verdicts to all event clients: at once where a state changed, else gathered for a
 * moment. A tracker is judged once a second; where samples come faster than real time, only the
 * newest verdict of half a second is published. The thread that calls {@link #judged} only notes
 * it; a thread of the hub's own writes the JSON, once for all clients.
 */
public final class EventHub implements Listener, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(EventHub.class);
  private static final long ENDED_EVERY_NS = TimeUnit.SECONDS.toNanos(1);
  private static final long LOOK_EVERY_NS = TimeUnit.MILLISECONDS.toNanos(200);
  private static final int MOST_CHANGES_WAITING = 10_000;

  private final TrackerNames names;
  private final NewestCalibrations marks;
  private final ReadinessOrder order;
  private final Table<Readiness> table;
  private final Supplier<Set<String>> soaking;
  private final Set<EventClient> clients = ConcurrentHashMap.newKeySet();
  private final Map<String, Readiness> last = new HashMap<>();
  private final VerdictThrottle figures = new VerdictThrottle();
  private final List<Readiness> changes = new ArrayList<>();
  private final Thread thread;
  private final Supplier<byte[]> alarms;
  private final AtomicBoolean alarmsChanged = new AtomicBoolean();
  private final Set<String> soakingBefore = new TreeSet<>();
  private final Supplier<List<InHand>> inHand;
  private final Table<InHand> hands;
  private volatile String handsBefore = "";
  private Map<String, Integer> orderBefore = Map.of();
  private long lookedAtNs = System.nanoTime();
  private boolean stopped;

  /**
   * @param order looked at anew where anything is told, and told where it changed
   * @param soaking ids of the trackers with an open soak, asked once a second
   * @param inHand trackers that somebody holds, asked some times a second
   * @param alarms the event with the present alarms
   */
  public EventHub(
      TrackerNames names,
      NewestCalibrations marks,
      ReadinessOrder order,
      Supplier<Set<String>> soaking,
      Supplier<List<InHand>> inHand,
      Supplier<byte[]> alarms) {
    this.names = names;
    this.marks = marks;
    this.order = order;
    this.table = ReadinessTable.of(names::of, marks, order);
    this.soaking = soaking;
    this.inHand = inHand;
    this.hands = HandTable.of(names::of);
    this.alarms = alarms;
    this.thread = Daemons.thread("events", this::run);
    thread.start();
  }

  @Override
  public synchronized void judged(List<Readiness> verdicts) {
    for (Readiness verdict : verdicts) {
      Readiness before = last.put(verdict.tracker(), verdict);
      if (clients.isEmpty()) {
        continue;
      }
      figures.note(verdict, System.nanoTime());
      if (changed(before, verdict) && changes.size() < MOST_CHANGES_WAITING) {
        changes.add(verdict);
      }
    }
    notifyAll();
  }

  /** A new calibration of a tracker may change its next step: published again at once. */
  public synchronized void publishAgain(String tracker) {
    Readiness verdict = last.get(tracker);
    if (verdict != null && !clients.isEmpty() && changes.size() < MOST_CHANGES_WAITING) {
      changes.add(verdict);
      notifyAll();
    }
  }

  private static boolean changed(Readiness before, Readiness now) {
    return before == null
        || before.state() != now.state()
        || !Objects.equals(before.soak(), now.soak());
  }

  /**
   * Adds a client, which gets the present state first.
   *
   * @param open the newest verdicts of all open soaks, read just before; a newer one that reached
   *     this hub meanwhile counts
   */
  void add(EventClient client, Collection<Readiness> open) {
    Table<Readiness> asNamed = named(open);
    order.look();
    byte[] alarmsNow = alarms.get();
    List<Readiness> wanted = on(client.rack(), List.copyOf(open));
    synchronized (this) {
      if (stopped) {
        throw new ProblemException(Problem.Kind.BUSY, "The service is stopping.");
      }
      client.offer(event("readiness", asNamed.json(wanted.stream().map(this::newest).toList())));
      client.offer(alarmsNow);
      soakingBefore.addAll(open.stream().map(Readiness::tracker).toList());
      clients.add(client);
      // What changed since it was looked at.
      alarmsChanged.set(true);
      handsBefore = "";
    }
  }

  /** Names may have to be read, for which the thread that judges must not wait. */
  private Table<Readiness> named(Collection<Readiness> open) {
    Map<String, String> named = new HashMap<>();
    open.forEach(v -> named.put(v.tracker(), names.of(v.tracker())));
    return ReadinessTable.of(named::get, marks, order);
  }

  /**
   * Makes for nobody what each client gets first, so that the first one after a start does not wait
   * until the program has learnt to.
   *
   * @param open the newest verdicts of all open soaks
   */
  public void rehearse(Collection<Readiness> open) {
    order.look();
    byte[] present = event("readiness", named(open).json(List.copyOf(open)));
    LOG.debug("a board gets {} bytes at first", present.length);
  }

  private Readiness newest(Readiness verdict) {
    Readiness published = last.get(verdict.tracker());
    return published != null && published.asOfUs() > verdict.asOfUs() ? published : verdict;
  }

  /** Publishes an event of any other kind to all. */
  public void publish(String name, Object data) {
    send(EventClient.event(name, Json.write(data)));
  }

  /** Alarms are published within a second. */
  public void alarmsChanged() {
    alarmsChanged.set(true);
  }

  void remove(EventClient client) {
    clients.remove(client);
  }

  int clients() {
    return clients.size();
  }

  private void run() {
    long endedAtNs = System.nanoTime() + ENDED_EVERY_NS;
    while (await(endedAtNs)) {
      boolean due = System.nanoTime() - endedAtNs >= 0;
      try {
        lookAround();
        send("readiness", takenChanges());
        send("figures", takenFigures());
        if (due) {
          sendEnded();
          sendAlarms();
        }
      } catch (RuntimeException e) {
        LOG.error("Events could not be told; going on with the next", e);
      }
      endedAtNs = due ? System.nanoTime() + ENDED_EVERY_NS : endedAtNs;
    }
  }

  /** What no verdict tells by itself: who holds which tracker, and who is next. */
  private void lookAround() {
    long nowNs = System.nanoTime();
    if (clients.isEmpty() || nowNs - lookedAtNs < 0) {
      return;
    }
    lookedAtNs = nowNs + LOOK_EVERY_NS;
    lookAtOrder();
    String handsNow = Json.write(Map.of("trackers", hands.json(inHand.get())));
    if (!handsNow.equals(handsBefore)) {
      handsBefore = handsNow;
      send(EventClient.event("in_hand", handsNow));
    }
  }

  /** Who gets another place is told although nothing else changed of it. */
  private void lookAtOrder() {
    Map<String, Integer> now = order.look();
    Set<String> either = new TreeSet<>(now.keySet());
    either.addAll(orderBefore.keySet());
    Map<String, Integer> before = orderBefore;
    either.stream()
        .filter(t -> !Objects.equals(now.get(t), before.get(t)))
        .forEach(this::publishAgain);
    orderBefore = now;
  }

  private void sendAlarms() {
    if (alarmsChanged.getAndSet(false)) {
      send(alarms.get());
    }
  }

  private synchronized List<Readiness> takenChanges() {
    List<Readiness> taken = List.copyOf(changes);
    changes.clear();
    return taken;
  }

  private synchronized List<Readiness> takenFigures() {
    return figures.taken(System.nanoTime());
  }

  /** Waits for a change, for figures that are due or for the time; false when the hub stops. */
  private synchronized boolean await(long untilNs) {
    try {
      long leftNs = leftNs(untilNs);
      while (!stopped && changes.isEmpty() && leftNs > 0) {
        TimeUnit.NANOSECONDS.timedWait(this, leftNs);
        leftNs = leftNs(untilNs);
      }
      return !stopped;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  private long leftNs(long untilNs) {
    long nowNs = System.nanoTime();
    return Math.min(untilNs - nowNs, figures.dueInNs(nowNs));
  }

  private void send(String name, List<Readiness> verdicts) {
    if (verdicts.isEmpty()) {
      return;
    }
    // Written once for all clients of the same rack.
    Map<Optional<String>, List<EventClient>> byRack =
        clients.stream().collect(Collectors.groupingBy(EventClient::rack));
    byRack.forEach(
        (rack, its) -> {
          List<Readiness> wanted = on(rack, verdicts);
          if (!wanted.isEmpty()) {
            send(event(name, table.json(wanted)), its);
          }
        });
  }

  private List<Readiness> on(Optional<String> rack, List<Readiness> verdicts) {
    return rack.isEmpty()
        ? verdicts
        : verdicts.stream().filter(v -> names.rackOf(v.tracker()).equals(rack.get())).toList();
  }

  /** Publishes which trackers no longer have an open soak, so that a board removes their tiles. */
  private void sendEnded() {
    Set<String> ended = ended();
    if (!ended.isEmpty()) {
      send(EventClient.event("ended", Json.write(Map.of("trackers", ended))));
    }
  }

  private synchronized Set<String> ended() {
    Set<String> now = soaking.get();
    Set<String> ended = new TreeSet<>(soakingBefore);
    ended.removeAll(now);
    soakingBefore.clear();
    soakingBefore.addAll(now);
    return ended;
  }

  private void send(byte[] event) {
    send(event, clients);
  }

  private void send(byte[] event, Collection<EventClient> to) {
    for (EventClient client : to) {
      if (!client.offer(event)) {
        LOG.info("An event client did not keep up and was cut off.");
        clients.remove(client);
      }
    }
  }

  private static byte[] event(String name, List<?> trackers) {
    return EventClient.event(name, Json.write(Map.of("trackers", trackers)));
  }

  /** Ends all clients. */
  @Override
  public void close() {
    synchronized (this) {
      stopped = true;
      notifyAll();
    }
    clients.forEach(EventClient::close);
  }
}

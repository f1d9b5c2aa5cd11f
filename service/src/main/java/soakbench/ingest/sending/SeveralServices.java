package soakbench.ingest.sending;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.stream.IntStream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/**
 * Services that write to one store, one of them or each for some racks. A tracker's samples go to
 * the service that took them last, and to the next one only where that fails or has left the
 * tracker to another. Sending to two does no harm: the store knows a sample by its tracker and
 * time.
 */
public final class SeveralServices implements Destination {
  private static final Logger LOG = LoggerFactory.getLogger(SeveralServices.class);

  /** What every service leaves to others for so long is set aside, so that the rest goes on. */
  private static final long UNCLAIMED_NS = TimeUnit.SECONDS.toNanos(60);

  /**
   * One of them.
   *
   * @param name its address, for the log
   */
  public record Named(String name, Destination service) {}

  private final List<Named> services;
  private final LongSupplier nanoTime;

  /** By tracker, which service took its samples last. */
  private final Map<String, Integer> takenBy = new ConcurrentHashMap<>();

  /** By tracker, since when every service has left it to others. */
  private final Map<String, Long> unclaimedNs = new ConcurrentHashMap<>();

  /** Where samples of trackers go that none has taken yet. */
  private volatile int current;

  /**
   * @param services at least one; the first is tried first
   */
  public SeveralServices(List<Named> services) {
    this(services, System::nanoTime);
  }

  SeveralServices(List<Named> services, LongSupplier nanoTime) {
    this.services = List.copyOf(services);
    this.nanoTime = nanoTime;
  }

  @Override
  public Receipt send(List<Sample> samples) throws InterruptedException {
    return send(samples, false);
  }

  @Override
  public Receipt sendAgain(List<Sample> samples) throws InterruptedException {
    return send(samples, true);
  }

  private Receipt send(List<Sample> samples, boolean again) throws InterruptedException {
    Delivery delivery = new Delivery(samples, again);
    Map<Integer, List<Integer>> groups = new TreeMap<>();
    for (int i = 0; i < samples.size(); i++) {
      groups.computeIfAbsent(first(samples.get(i)), s -> new ArrayList<>()).add(i);
    }
    for (Map.Entry<Integer, List<Integer>> group : groups.entrySet()) {
      delivery.deliver(group.getValue(), group.getKey());
    }
    return delivery.receipt();
  }

  private int first(Sample sample) {
    return takenBy.getOrDefault(sample.tracker(), current);
  }

  /** One batch on its way. */
  private final class Delivery {
    private final List<Sample> samples;
    private final boolean again;
    private final List<Refusal> refused = new ArrayList<>();
    private SampleSink.Outcome outcome = new SampleSink.Outcome(0, 0, 0);
    private StoreException failure;

    Delivery(List<Sample> samples, boolean again) {
      this.samples = samples;
      this.again = again;
    }

    /** Offers samples to one service after another until each is taken or refused for good. */
    void deliver(List<Integer> places, int first) throws InterruptedException {
      List<Integer> rest = places;
      List<Refusal> left = List.of();
      boolean unsure = again;
      StoreException away = null;
      for (int k = 0; k < services.size() && !rest.isEmpty(); k++) {
        int service = (first + k) % services.size();
        try {
          Receipt receipt = offer(service, rest, unsure);
          left = taken(service, rest, receipt);
          rest = left.stream().map(Refusal::index).toList();
          moved(first, service, away);
        } catch (StoreException e) {
          if (!e.transientFault()) {
            throw e;
          }
          // It may have stored them before it failed.
          unsure = true;
          away = away == null ? e : away;
        }
      }
      if (!rest.isEmpty()) {
        leaveUnclaimed(left, away);
      }
    }

    private Receipt offer(int service, List<Integer> places, boolean unsure)
        throws InterruptedException {
      List<Sample> some = places.stream().map(samples::get).toList();
      Destination to = services.get(service).service();
      return unsure ? to.sendAgain(some) : to.send(some);
    }

    /** Notes what a service took; returns what it leaves to others. */
    private List<Refusal> taken(int service, List<Integer> places, Receipt receipt) {
      List<Refusal> left = new ArrayList<>();
      boolean[] elsewhere = new boolean[places.size()];
      for (Refusal each : receipt.refused()) {
        elsewhere[each.index()] = each.elsewhere();
        Refusal placed = each.at(places.get(each.index()));
        (each.elsewhere() ? left : refused).add(placed);
      }
      IntStream.range(0, places.size())
          .filter(i -> !elsewhere[i])
          .forEach(i -> claimed(samples.get(places.get(i)).tracker(), service));
      outcome = outcome.plus(receipt.outcome());
      return left;
    }

    private void leaveUnclaimed(List<Refusal> left, StoreException away) {
      if (away != null) {
        failure = away;
        return;
      }
      long nowNs = nanoTime.getAsLong();
      for (Refusal each : left) {
        String tracker = samples.get(each.index()).tracker();
        long sinceNs = unclaimedNs.computeIfAbsent(tracker, t -> nowNs);
        if (nowNs - sinceNs >= UNCLAIMED_NS) {
          refused.add(each);
        } else {
          failure = new StoreException(each.reason(), null, true);
        }
      }
    }

    Receipt receipt() {
      if (failure != null) {
        throw failure;
      }
      return new Receipt(outcome, refused);
    }
  }

  private void claimed(String tracker, int service) {
    takenBy.put(tracker, service);
    unclaimedNs.remove(tracker);
  }

  private void moved(int first, int service, StoreException away) {
    if (away != null && first == current && service != current) {
      current = service;
      LOG.warn("samples go to {} now: {}", services.get(service).name(), away.getMessage());
    }
  }

  @Override
  public boolean hears() {
    return services.stream().anyMatch(named -> named.service().hears());
  }

  @Override
  public void hear(List<Sample> newest) throws InterruptedException {
    Map<Integer, List<Sample>> groups = new TreeMap<>();
    newest.forEach(s -> groups.computeIfAbsent(first(s), i -> new ArrayList<>()).add(s));
    for (Map.Entry<Integer, List<Sample>> group : groups.entrySet()) {
      hear(group.getKey(), group.getValue());
    }
  }

  private void hear(int first, List<Sample> newest) throws InterruptedException {
    StoreException failure = null;
    for (int k = 0; k < services.size(); k++) {
      try {
        services.get((first + k) % services.size()).service().hear(newest);
        return;
      } catch (StoreException e) {
        failure = e;
      }
    }
    throw failure;
  }

  @Override
  public Optional<String> notice() {
    return services.get(current).service().notice();
  }

  @Override
  public long dateUs() {
    return services.get(current).service().dateUs();
  }

  @Override
  public void learnDate() {
    services.forEach(named -> named.service().learnDate());
  }

  @Override
  public boolean refusesAhead() {
    return services.stream().anyMatch(named -> named.service().refusesAhead());
  }
}

package soakbench.ingest.net;

import java.net.InetSocketAddress;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.ListenSettings;
import soakbench.ingest.source.RateMeter;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;

/**
 * All senders to one socket, a bounded number of them: made-up addresses must not fill the memory.
 * Thread-safe.
 */
final class NetSenders {
  /** So many at a time. */
  static final int MOST = 256;

  private static final int MOST_SHOWN = 32;

  /** One that was silent for so long may be evicted. */
  private static final long IDLE_US = 60_000_000;

  private final ListenSettings settings;
  private final Function<String, LineSettings> ofHost;
  private final IdOwners owners;
  private final boolean reordered;
  private final LineCounters counters = new LineCounters();
  private final RateMeter rate = new RateMeter(System.nanoTime());
  private final Map<String, NetSender> senders = new ConcurrentHashMap<>();

  /** Those that were evicted, while what they sent last is still on its way. */
  private final Set<NetSender> leaving = new HashSet<>();

  private long lostBefore;
  private volatile long refusedUs = Reading.NO_TIME;

  /**
   * @param ofHost what the slot of a host sets about its lines; null where no slot has it
   * @param reordered whether lines may come in another order than they were sent
   */
  NetSenders(
      ListenSettings settings,
      Function<String, LineSettings> ofHost,
      IdOwners owners,
      boolean reordered) {
    this.settings = settings;
    this.ofHost = ofHost;
    this.owners = owners;
    this.reordered = reordered;
  }

  /**
   * The sender at this address; empty where there are too many.
   *
   * @param reboots called on reboots of a sender that is new
   */
  Optional<NetSender> at(InetSocketAddress address, long nowUs, Runnable reboots) {
    NetSender oldest = null;
    NetSender sender;
    synchronized (this) {
      String name = name(address);
      sender = senders.get(name);
      if (sender != null) {
        return Optional.of(sender);
      }
      if (senders.size() >= MOST) {
        oldest = makeRoom(nowUs);
        if (oldest == null) {
          refusedUs = nowUs;
          return Optional.empty();
        }
      }
      sender = sender(name, address.getAddress().getHostAddress(), reboots);
      senders.put(name, sender);
    }
    end(oldest, nowUs);
    return Optional.of(sender);
  }

  private NetSender sender(String name, String host, Runnable reboots) {
    LineSettings own = ofHost.apply(host);
    return new NetSender(
        name, own == null ? settings.lines() : own, owners, counters, reboots, reordered);
  }

  /** Over UDP a host is one sender: its datagrams may come from any of its ports. */
  private String name(InetSocketAddress address) {
    String host = address.getAddress().getHostAddress();
    return reordered ? host : host + ":" + address.getPort();
  }

  /**
   * Takes out the one that was silent longest: first those that never sent a good line. Null where
   * there is none.
   */
  private NetSender makeRoom(long nowUs) {
    return senders.entrySet().stream()
        .filter(e -> !e.getValue().isKnown() || nowUs - e.getValue().lastHeardUs() > IDLE_US)
        .min(
            Comparator.comparing((Map.Entry<String, NetSender> e) -> e.getValue().isKnown())
                .thenComparing(e -> e.getValue().lastHeardUs()))
        .map(e -> takeOut(e.getKey()))
        .orElse(null);
  }

  /** Forgets a sender; what it lost stays counted. */
  void remove(InetSocketAddress address, long nowUs) {
    end(takeOut(name(address)), nowUs);
  }

  private synchronized NetSender takeOut(String name) {
    NetSender gone = senders.remove(name);
    if (gone != null) {
      leaving.add(gone);
    }
    return gone;
  }

  /** Ends a sender, which waits while nobody takes its samples: so never under the lock. */
  private void end(NetSender gone, long nowUs) {
    if (gone == null) {
      return;
    }
    try {
      gone.gone();
    } finally {
      synchronized (this) {
        leaving.remove(gone);
        lostBefore += gone.lost(nowUs);
      }
    }
  }

  /** Releases what has waited for earlier lines for long enough. */
  void release(long nowUs) {
    senders.values().forEach(sender -> sender.release(nowUs));
  }

  void stop() {
    senders.values().forEach(NetSender::stop);
  }

  Collection<NetSender> all() {
    return senders.values();
  }

  /** What is wrong with what comes, in a sentence; or empty. */
  String notice(long nowUs) {
    if (refusedUs != Reading.NO_TIME && nowUs - refusedUs < IDLE_US) {
      return "more than " + MOST + " senders at a time: those that came later are not read";
    }
    return senders.values().stream()
        .flatMap(sender -> sender.notice(nowUs).stream())
        .findFirst()
        .orElse("");
  }

  /** Those heard last, the newest first. */
  List<SourceStatus.Sender> newest(long correctionUs) {
    return senders.values().stream()
        .flatMap(sender -> sender.statuses(correctionUs).stream())
        .sorted(Comparator.comparingLong(SourceStatus.Sender::lastHeardUs).reversed())
        .limit(MOST_SHOWN)
        .toList();
  }

  synchronized SourceStatus.Heard heard(long nowUs, long correctionUs) {
    TreeSet<String> trackers = new TreeSet<>();
    TreeSet<String> heardOnce = new TreeSet<>();
    long lost = lostBefore;
    long lastUs = Reading.NO_TIME;
    String form = "";
    for (NetSender sender : senders.values()) {
      trackers.addAll(sender.trackers());
      heardOnce.addAll(sender.heardOnce(nowUs));
      lost += sender.lost(nowUs);
      form = sender.lastHeardUs() >= lastUs && !sender.form().isEmpty() ? sender.form() : form;
      lastUs = Math.max(lastUs, sender.lastHeardUs());
    }
    lost += leaving.stream().mapToLong(sender -> sender.lost(nowUs)).sum();
    rate.total(counters.lines(), System.nanoTime());
    return new SourceStatus.Heard(
        counters.snapshot(),
        new SourceStatus.Newest(
            form, counters.sample(), lastUs == Reading.NO_TIME ? lastUs : lastUs + correctionUs),
        List.copyOf(trackers),
        List.copyOf(heardOnce),
        rate.perSecond(System.nanoTime()),
        lost);
  }
}

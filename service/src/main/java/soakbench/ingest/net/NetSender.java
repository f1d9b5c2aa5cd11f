package soakbench.ingest.net;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import soakbench.ingest.identity.DuplicateIdDetector;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.identity.IdPriority;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.RateMeter;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * A sender on the network: what was read from it so far. Over TCP that is a connection; over UDP a
 * host, whatever ports its datagrams come from: who sent a line is what the line says. Fed by one
 * thread at a time, which waits where nobody takes the samples; its status may be read from any,
 * and never waits for that.
 */
public final class NetSender {
  /** CSV headers are remembered for so many ports of one host. */
  private static final int MOST_PORTS = 64;

  private static final int MOST_IDS = IdPriority.HEARD_BEFORE.most();

  private final LineCounters counters;
  private final String address;
  private final LineSettings settings;
  private final boolean reordered;
  private final List<SenderPipeline> pipelines = new ArrayList<>();
  private final LineReader.Readings readings =
      new LineReader.Readings() {
        @Override
        public Rejection take(Reading reading) {
          return NetSender.this.take(reading);
        }

        @Override
        public Rejection takeUntimed(Rejection rejection) {
          Rejection why = NetSender.this.take(rejection.untimed());
          if (why == null) {
            counters.unbelievedTime();
          }
          return why;
        }
      };
  private final Map<Integer, LineReader> readers = bounded(MOST_PORTS);
  private final Map<String, DuplicateIdDetector> duplicates = bounded(MOST_IDS);

  /** Guarded by itself, never while a line is on its way. */
  private final Map<String, Heard> heard = bounded(MOST_IDS);

  private final RateMeter rate = new RateMeter(System.nanoTime());
  private long lineCount;
  private volatile int port;
  private long readUs;
  private volatile String form = "";
  private volatile long lastHeardUs = Reading.NO_TIME;

  /** A tracker that was heard here. */
  private static final class Heard {
    private final RateMeter rate = new RateMeter(System.nanoTime());
    private int port;
    private long lines;
    private long lastUs;
  }

  /**
   * @param address host and port; over UDP the host alone
   * @param settings what is set about its lines
   * @param counters where its lines are counted, with those of other senders
   * @param reboots called on reboots
   * @param reordered whether its lines may come in another order than they were sent, and from any
   *     port
   */
  public NetSender(
      String address,
      LineSettings settings,
      IdOwners owners,
      LineCounters counters,
      Runnable reboots,
      boolean reordered) {
    this.address = address;
    this.settings = settings;
    this.counters = counters;
    this.reordered = reordered;
    pipelines.add(
        new SenderPipeline(address, settings.tracker(), owners, counters, reboots, reordered));
    if (reordered) {
      String other = "another sender at " + address;
      pipelines.add(new SenderPipeline(other, settings.tracker(), owners, counters, reboots, true));
    }
  }

  private static <K, V> Map<K, V> bounded(int most) {
    return new LinkedHashMap<>(16, 0.75f, true) {
      @Override
      protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
        return size() > most;
      }
    };
  }

  private LineReader reader() {
    LineReader reader = new LineReader(counters, readings, settings.pattern());
    if (settings.columns() != null) {
      reader.presetHeader(settings.columns());
    }
    return reader;
  }

  private Rejection take(Reading reading) {
    String id = reading.id() == null ? settings.tracker() : reading.id();
    if (!reordered || id == null) {
      return pipelines.get(0).take(reading, readUs);
    }
    int which =
        duplicates.computeIfAbsent(id, k -> new DuplicateIdDetector()).of(reading, port, readUs);
    Rejection why = pipelines.get(which).take(reading, readUs);
    if (which == 0 && why == null) {
      note(id);
    }
    return why;
  }

  private void note(String id) {
    synchronized (heard) {
      Heard of = heard.computeIfAbsent(id, k -> new Heard());
      of.port = port;
      of.lastUs = readUs;
      of.rate.total(++of.lines, System.nanoTime());
    }
  }

  /** Takes bytes that came at this time. */
  public void feed(byte[] bytes, int length, long atUs) {
    feed(0, bytes, length, atUs);
  }

  /** Takes bytes that came at this time from one of the host's ports. */
  public synchronized void feed(int fromPort, byte[] bytes, int length, long atUs) {
    port = fromPort;
    readUs = atUs;
    lastHeardUs = atUs;
    LineReader reader = readers.computeIfAbsent(reordered ? fromPort : 0, k -> reader());
    reader.feed(bytes, 0, length);
    form = reader.form().isEmpty() ? form : reader.form();
    for (int i = 0; i < length; i++) {
      lineCount += bytes[i] == '\n' ? 1 : 0;
    }
    rate.total(lineCount, System.nanoTime());
  }

  /** Releases what has waited for earlier lines for long enough. */
  public synchronized void release(long nowUs) {
    pipelines.forEach(each -> each.release(nowUs));
  }

  /** The connection went away; its ids may go on elsewhere. */
  synchronized void gone() {
    readers.values().forEach(LineReader::interrupted);
    pipelines.forEach(SenderPipeline::gone);
  }

  /** Passes on what still waits. */
  public synchronized void stop() {
    readers.values().forEach(LineReader::interrupted);
    pipelines.forEach(SenderPipeline::stop);
  }

  /** When bytes came last, on the arrival clock's running time. */
  long lastHeardUs() {
    return lastHeardUs;
  }

  /** Whether any tracker is known from it: garbage alone shows none. */
  boolean isKnown() {
    return pipelines.stream().anyMatch(each -> !each.stamper().trackers().isEmpty());
  }

  String form() {
    return form;
  }

  Optional<String> notice(long nowUs) {
    return pipelines.stream().flatMap(each -> each.stamper().notice(nowUs).stream()).findFirst();
  }

  long lost(long nowUs) {
    return pipelines.stream().mapToLong(each -> each.stamper().lost(nowUs)).sum();
  }

  TreeSet<String> trackers() {
    TreeSet<String> all = new TreeSet<>();
    pipelines.forEach(each -> all.addAll(each.stamper().trackers()));
    return all;
  }

  TreeSet<String> heardOnce(long nowUs) {
    TreeSet<String> all = new TreeSet<>();
    pipelines.forEach(each -> all.addAll(each.stamper().heardOnce(nowUs)));
    return all;
  }

  /**
   * Who sends: over UDP one for each port that trackers were heard from last.
   *
   * @param correctionUs what makes running time the date
   */
  List<SourceStatus.Sender> statuses(long correctionUs) {
    TreeSet<String> known = trackers();
    List<SourceStatus.Sender> all = new ArrayList<>();
    synchronized (heard) {
      byPort(known).forEach((of, ids) -> all.add(status(of, ids, correctionUs)));
    }
    return all.isEmpty() ? List.of(asOne(known, correctionUs)) : all;
  }

  private SourceStatus.Sender asOne(TreeSet<String> known, long correctionUs) {
    double perS = rate.perSecond(System.nanoTime());
    String shown = reordered ? address + ":" + port : address;
    return new SourceStatus.Sender(shown, List.copyOf(known), perS, lastHeardUs + correctionUs);
  }

  private Map<Integer, List<String>> byPort(TreeSet<String> known) {
    Map<Integer, List<String>> byPort = new TreeMap<>();
    heard.forEach(
        (id, of) -> {
          if (known.contains(id)) {
            byPort.computeIfAbsent(of.port, k -> new ArrayList<>()).add(id);
          }
        });
    return byPort;
  }

  private SourceStatus.Sender status(int of, List<String> ids, long correctionUs) {
    double perS = 0;
    long lastUs = Reading.NO_TIME;
    for (String id : ids) {
      perS += heard.get(id).rate.perSecond(System.nanoTime());
      lastUs = Math.max(lastUs, heard.get(id).lastUs);
    }
    List<String> sorted = ids.stream().sorted().toList();
    return new SourceStatus.Sender(address + ":" + of, sorted, perS, lastUs + correctionUs);
  }
}

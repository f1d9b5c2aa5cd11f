package soakbench.ingest.ports;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;
import soakbench.ingest.source.SourceStatus;
import soakbench.serial.PortInfo;

/**
 * The ports that no slot names, listened to because a slot is bound by its tracker's id alone. They
 * are looked for each second: one that comes is opened, one that goes is closed.
 */
final class FreePorts {
  private static final Logger LOG = LoggerFactory.getLogger(FreePorts.class);
  private static final int POLL_MS = 1000;

  private final FaultLog faults = new FaultLog(LOG, "looking for ports");
  private final PortDirectory directory;
  private final Function<String, PortSource> opening;
  private final Map<String, PortSource> sources = new ConcurrentSkipListMap<>();
  private final CountDownLatch stopping = new CountDownLatch(1);
  private final Thread polling = Daemons.thread("looking for ports", this::run);

  /**
   * @param opening makes the source of a device file
   */
  FreePorts(PortDirectory directory, Function<String, PortSource> opening) {
    this.directory = directory;
    this.opening = opening;
  }

  void start() {
    polling.start();
  }

  void stop() {
    stopping.countDown();
    sources.values().forEach(PortSource::stop);
  }

  /** Waits until all are closed. */
  void close() {
    stop();
    Daemons.join(polling);
    sources.values().forEach(PortSource::stop);
    sources.values().forEach(PortSource::close);
  }

  private void run() {
    try {
      do {
        pollSafely();
      } while (!stopping.await(POLL_MS, TimeUnit.MILLISECONDS));
    } catch (InterruptedException e) {
      LOG.warn("looking for ports was interrupted and has stopped");
    }
  }

  private void pollSafely() {
    try {
      poll();
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }

  private void poll() {
    Set<String> free =
        directory.free().stream().map(PortInfo::path).collect(Collectors.toUnmodifiableSet());
    for (String path : List.copyOf(sources.keySet())) {
      if (!free.contains(path)) {
        sources.get(path).close();
        sources.remove(path);
      }
    }
    for (String path : free) {
      if (!sources.containsKey(path)) {
        PortSource source = opening.apply(path);
        sources.put(path, source);
        source.start();
      }
    }
  }

  /** How many ports are listened to. */
  int count() {
    return sources.size();
  }

  /** The status of the port where this tracker is heard. */
  Optional<SourceStatus> of(String tracker) {
    return sources.values().stream()
        .filter(source -> source.has(tracker))
        .findFirst()
        .map(PortSource::status);
  }

  /** The status of the ports where none of these trackers is heard. */
  List<SourceStatus> without(Set<String> trackers) {
    return sources.values().stream()
        .filter(source -> trackers.stream().noneMatch(source::has))
        .map(PortSource::status)
        .toList();
  }
}

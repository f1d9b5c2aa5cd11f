package soakbench.ingest.ports;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.RackFile;
import soakbench.lines.Reading;
import soakbench.serial.BaudSearch;
import soakbench.serial.PortFinder;
import soakbench.serial.PortHolders;
import soakbench.serial.PortInfo;
import soakbench.serial.PortPath;
import soakbench.serial.SerialPorts;
import soakbench.serial.SystemPorts;

/** Surveys the serial ports of this computer, for people who set up a rack. */
public final class PortSurvey {
  /** Where garbage comes, each rate is given so long; the survey takes longer then. */
  private static final long PATIENCE_NS = TimeUnit.MILLISECONDS.toNanos(500);

  private static final long CHECK_MS = 50;

  private final PortFinder finder;

  /** Of this computer's ports. */
  public PortSurvey() {
    this(new SystemPorts());
  }

  public PortSurvey(PortFinder finder) {
    this.finder = finder;
  }

  /**
   * What there is, without opening any port.
   *
   * @param named device files to look at besides those found
   */
  public List<PortReport> look(List<String> named) {
    return ports(named).stream().map(PortSurvey::seen).toList();
  }

  /**
   * Listens to all ports at once; one that can't be used or that another program holds is reported,
   * not opened. Nothing is sent.
   *
   * @param named device files to listen to besides those found
   * @param seconds how long; where only garbage comes, until all rates were tried
   * @throws InterruptedException if the thread is interrupted meanwhile
   */
  public List<PortReport> listen(List<String> named, double seconds) throws InterruptedException {
    List<PortReport> seen = look(named);
    ArrivalClock clock = new ArrivalClock();
    IdOwners owners = new IdOwners(tracker -> Reading.NO_TIME, sample -> {});
    Map<String, PortSource> sources = new LinkedHashMap<>();
    for (PortReport port : seen) {
      if (port.canBeRead()) {
        sources.put(port.device().path(), source(port.device().path(), clock, owners));
      }
    }
    try {
      sources.values().forEach(PortSource::start);
      await(sources.values(), seconds);
      return seen.stream()
          .map(port -> heard(port, sources.get(port.device().path()), seconds))
          .toList();
    } finally {
      sources.values().forEach(PortSource::stop);
      sources.values().forEach(PortSource::close);
    }
  }

  private static PortSource source(String path, ArrivalClock clock, IdOwners owners) {
    RackFile.Slot slot = new RackFile.Slot("", path);
    return new PortSource(slot, () -> PortPath.at(path), clock, owners, PATIENCE_NS);
  }

  private static void await(Iterable<PortSource> sources, double seconds)
      throws InterruptedException {
    long beganNs = System.nanoTime();
    long usualNs = (long) (seconds * 1e9);
    long longestNs = usualNs + (BaudSearch.RATES.size() + 1) * PATIENCE_NS;
    boolean searching = true;
    while (System.nanoTime() - beganNs < (searching ? longestNs : usualNs)) {
      TimeUnit.MILLISECONDS.sleep(CHECK_MS);
      searching = false;
      for (PortSource source : sources) {
        searching |= source.isGarbled();
      }
    }
  }

  private List<PortInfo> ports(List<String> named) {
    Map<String, PortInfo> ports = new LinkedHashMap<>();
    finder.find().forEach(port -> ports.put(PortNames.real(port.path()), port));
    for (String path : named) {
      ports.putIfAbsent(PortNames.real(path), new PortInfo(path, "", "", "", -1, -1));
    }
    return new ArrayList<>(ports.values());
  }

  private static PortReport seen(PortInfo port) {
    String obstacle =
        SerialPorts.obstacle(port.path())
            .or(
                () ->
                    PortHolders.of(port.path())
                        .map(who -> "is used by " + who + "; close that program to listen here"))
            .orElse("");
    return PortReport.of(port, obstacle);
  }

  private static PortReport heard(PortReport port, PortSource source, double seconds) {
    return source == null ? port : port.heard(source.status(), source.isGarbled(), seconds);
  }
}

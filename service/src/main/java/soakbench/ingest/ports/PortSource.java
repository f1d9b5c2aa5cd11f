package soakbench.ingest.ports;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.source.Asker;
import soakbench.ingest.source.RateMeter;
import soakbench.ingest.source.Source;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceReader;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Reading;
import soakbench.serial.BaudSearch;
import soakbench.serial.PortPath;
import soakbench.serial.SerialLink;

/** One slot's port: reads it into samples and knows its status. */
final class PortSource implements Source, SerialLink.Listener {
  private static final Logger LOG = LoggerFactory.getLogger(PortSource.class);

  /** Whether the port is open, and if not, why. */
  private record LinkState(boolean open, String reason) {}

  private static final LinkState NOT_TRIED = new LinkState(false, "not tried yet");

  private final RackFile.Slot slot;
  private final Supplier<PortPath> portPath;
  private final ArrivalClock clock;
  private final String label;
  private final SourceReader reader;
  private final Asker asker;

  /** Null where the rate is set. */
  private final BaudSearch search;

  private final SerialLink link;
  private final RateMeter rate = new RateMeter(System.nanoTime());
  private volatile LinkState state = NOT_TRIED;
  private volatile String path = "";
  private volatile String garbled = "";
  private volatile long lastHeardUs = Reading.NO_TIME;

  /**
   * @param slot its slot; one without a name for a port that no slot names
   * @param portPath the path that the port has now
   * @param owners the trackers of all sources
   */
  PortSource(RackFile.Slot slot, Supplier<PortPath> portPath, ArrivalClock clock, IdOwners owners) {
    this(slot, portPath, clock, owners, BaudSearch.PATIENCE_NS);
  }

  /**
   * @param patienceNs how long garbage is listened to before another rate is tried
   */
  PortSource(
      RackFile.Slot slot,
      Supplier<PortPath> portPath,
      ArrivalClock clock,
      IdOwners owners,
      long patienceNs) {
    this.slot = slot;
    this.portPath = portPath;
    this.clock = clock;
    this.label = slot.name().isEmpty() ? slot.binding().toString() : "slot " + slot.name();
    PortSettings settings = slot.settings();
    boolean auto = settings.baud() == PortSettings.AUTO_BAUD;
    this.search = auto ? new BaudSearch(patienceNs) : null;
    int baud = auto ? BaudSearch.FIRST : settings.baud();
    String name = slot.binding().toString();
    this.link =
        new SerialLink(new SerialLink.Port(name, this::lookUp, baud, settings.reset()), this);
    this.asker = new Asker(settings.ask(), label, link::write);
    this.reader = new SourceReader(slot.lines(), owners, label, tracker -> asker.rebooted());
  }

  private PortPath lookUp() {
    PortPath now = portPath.get();
    if (!now.path().isEmpty()) {
      path = now.path();
    }
    return now;
  }

  @Override
  public void start() {
    link.start();
  }

  @Override
  public void stop() {
    asker.close();
    link.stop();
  }

  @Override
  public void close() {
    asker.close();
    link.close();
    reader.stop();
  }

  @Override
  public void opened() {
    reader.interrupted();
    boolean back = !state.equals(NOT_TRIED);
    state = new LinkState(true, "");
    if (back) {
      LOG.info("{}: port {} is open now", label, path);
    }
    asker.opened();
  }

  @Override
  public void bytes(byte[] buffer, int length) {
    lastHeardUs = clock.nowUs();
    reader.feed(buffer, length, clock.runningUs());
    rate.total(reader.lines(), System.nanoTime());
    if (search != null) {
      searchBaud(buffer, length);
    }
  }

  private void searchBaud(byte[] buffer, int length) {
    int before = search.baud();
    if (search.heard(buffer, length, reader.readings(), System.nanoTime())) {
      reader.interrupted();
      link.setBaud(search.baud());
      garbled = "can't be read at " + before + " baud; trying " + search.baud();
    } else if (!search.isGarbled() && !garbled.isEmpty()) {
      garbled = "";
      LOG.info("{}: can be read at {} baud", label, search.baud());
    }
  }

  @Override
  public void lost(String reason) {
    reader.gone();
    asker.closed();
    state = new LinkState(false, reason);
    LOG.warn("{}: {}", label, reason);
  }

  @Override
  public void cannotOpen(String reason) {
    state = new LinkState(false, reason);
    LOG.warn("{}: {}", label, reason);
  }

  /** Whether this tracker's lines are taken from here now. */
  boolean has(String tracker) {
    return reader.has(tracker);
  }

  /** Whether another rate is looked for. */
  boolean isGarbled() {
    return search != null && search.isGarbled();
  }

  @Override
  public SourceStatus status() {
    LinkState now = state;
    return new SourceStatus(
        slot.name(),
        new SourceStatus.Way(
            SourceKind.SERIAL, path.isEmpty() ? slot.binding().port() : path, link.baud()),
        now.open(),
        now.open() ? notice() : now.reason(),
        List.of(),
        asker.sent(),
        heard());
  }

  /** What is wrong with what comes. */
  private String notice() {
    return reader.notice(clock.runningUs()).orElse(garbled);
  }

  private SourceStatus.Heard heard() {
    return new SourceStatus.Heard(
        reader.counts(),
        new SourceStatus.Newest(reader.form(), reader.sample(), lastHeardUs),
        new ArrayList<>(reader.trackers()),
        reader.heardOnce(clock.runningUs()),
        rate.perSecond(System.nanoTime()),
        reader.lost(clock.runningUs()));
  }
}

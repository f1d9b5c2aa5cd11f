package soakbench.ingest;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.function.ToLongFunction;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.lines.Reading;
import soakbench.model.Sample;
import soakbench.serial.PortPlace;
import soakbench.serial.SerialLink;

/** One slot's port: reads it into samples and knows how it stands. */
final class PortSource implements Source, SerialLink.Listener {
  private static final Logger LOG = LoggerFactory.getLogger(PortSource.class);

  /** Whether the port is open, and if not, why. */
  private record Standing(boolean open, String reason) {}

  private static final Standing NOT_TRIED = new Standing(false, "not tried yet");

  private final RackFile.Slot slot;
  private final Supplier<PortPlace> place;
  private final ArrivalClock clock;
  private final SourceReader reader;
  private final SerialLink link;
  private final RateMeter rate = new RateMeter(System.nanoTime());
  private volatile Standing standing = NOT_TRIED;
  private volatile String path = "";
  private volatile long lastHeardUs = Reading.NO_TIME;

  /**
   * @param newestUs the time of a tracker's newest sample so far, or {@link Reading#NO_TIME}
   */
  PortSource(
      RackFile.Slot slot,
      Supplier<PortPlace> place,
      ArrivalClock clock,
      ToLongFunction<String> newestUs,
      Consumer<Sample> samples) {
    this.slot = slot;
    this.clock = clock;
    this.reader = new SourceReader(slot.tracker(), slot.columns(), newestUs, samples);
    this.place = place;
    PortSettings settings = slot.settings();
    int baud = settings.baud() == PortSettings.AUTO_BAUD ? 115200 : settings.baud();
    String name = slot.binding().toString();
    this.link = new SerialLink(new SerialLink.Port(name, this::look, baud, settings.reset()), this);
  }

  private PortPlace look() {
    PortPlace now = place.get();
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
    link.stop();
  }

  @Override
  public void close() {
    link.close();
    reader.stop();
  }

  @Override
  public void opened() {
    reader.interrupted();
    boolean back = !standing.equals(NOT_TRIED);
    standing = new Standing(true, "");
    if (back) {
      LOG.info("slot {}: port {} is open now", slot.name(), path);
    }
  }

  @Override
  public void bytes(byte[] buffer, int length) {
    lastHeardUs = clock.nowUs();
    reader.feed(buffer, length, lastHeardUs);
    rate.total(reader.lines(), System.nanoTime());
  }

  @Override
  public void lost(String reason) {
    reader.interrupted();
    standing = new Standing(false, reason);
    LOG.warn("slot {}: {}", slot.name(), reason);
  }

  @Override
  public void cannotOpen(String reason) {
    standing = new Standing(false, reason);
    LOG.warn("slot {}: {}", slot.name(), reason);
  }

  @Override
  public SourceStatus status() {
    Standing now = standing;
    return new SourceStatus(
        slot.name(),
        SourceKind.SERIAL,
        path.isEmpty() ? slot.binding().port() : path,
        slot.settings().baud(),
        now.open(),
        now.reason(),
        List.of(),
        "",
        heard());
  }

  private SourceStatus.Heard heard() {
    return new SourceStatus.Heard(
        reader.counts(),
        reader.form(),
        reader.sample(),
        new ArrayList<>(reader.trackers()),
        rate.perSecond(System.nanoTime()),
        lastHeardUs,
        reader.lost(clock.nowUs()));
  }
}

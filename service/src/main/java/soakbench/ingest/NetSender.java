package soakbench.ingest;

import java.util.ArrayList;
import java.util.Optional;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Somebody on the network who sends lines: what was read from there so far. Fed by one thread at a
 * time; its standing may be asked from any.
 */
final class NetSender {
  private final String address;
  private final SampleStamper stamper;
  private final ReorderBuffer reorder;
  private final LineReader lines;
  private final RateMeter rate = new RateMeter(System.nanoTime());
  private long lineCount;
  private volatile long lastHeardUs = Reading.NO_TIME;

  /**
   * @param address host and port
   * @param settings what is set about its lines
   * @param counters where its lines are counted, with those of other senders
   * @param reboots hears of reboots
   * @param reordered whether its lines may come in another order than they were sent
   */
  NetSender(
      String address,
      LineSettings settings,
      IdOwners owners,
      LineCounters counters,
      Runnable reboots,
      boolean reordered) {
    this.address = address;
    IdMember member = new IdMember(address, counters, tracker -> reboots.run());
    stamper = new SampleStamper(settings.tracker(), owners, member);
    reorder = reordered ? new ReorderBuffer(stamper, counters) : null;
    lines = new LineReader(counters, this::take, settings.pattern());
    if (settings.columns() != null) {
      lines.presetHeader(settings.columns());
    }
  }

  private Rejection take(Reading reading) {
    return reorder == null ? stamper.take(reading) : reorder.take(reading);
  }

  /** Takes bytes that came at this time. */
  synchronized void feed(byte[] bytes, int length, long readUs) {
    lastHeardUs = readUs;
    stamper.readAt(readUs);
    if (reorder != null) {
      reorder.readAt(readUs);
    }
    lines.feed(bytes, 0, length);
    for (int i = 0; i < length; i++) {
      lineCount += bytes[i] == '\n' ? 1 : 0;
    }
    rate.total(lineCount, System.nanoTime());
  }

  /** Lets go on what has waited for earlier lines for long enough. */
  synchronized void release(long nowUs) {
    if (reorder != null) {
      reorder.release(nowUs);
    }
  }

  /** Says that the connection went away; its ids may go on elsewhere. */
  synchronized void gone() {
    lines.interrupted();
    if (reorder != null) {
      reorder.end();
    }
    stamper.gone();
  }

  /** Hands on what still waits. */
  synchronized void stop() {
    if (reorder != null) {
      reorder.end();
    }
    lines.interrupted();
    stamper.end();
  }

  String address() {
    return address;
  }

  long lastHeardUs() {
    return lastHeardUs;
  }

  /** Whether any tracker is known from it: garbage alone shows none. */
  boolean isKnown() {
    return !stamper.trackers().isEmpty();
  }

  String form() {
    return lines.form();
  }

  Optional<String> notice(long nowUs) {
    return stamper.notice(nowUs);
  }

  long lost(long nowUs) {
    return stamper.lost(nowUs);
  }

  SourceStatus.Sender status() {
    return new SourceStatus.Sender(
        address,
        new ArrayList<>(stamper.trackers()),
        rate.perSecond(System.nanoTime()),
        lastHeardUs);
  }
}

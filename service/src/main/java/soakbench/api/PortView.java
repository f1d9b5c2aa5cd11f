package soakbench.api;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import soakbench.ingest.SourceKind;
import soakbench.ingest.SourceStatus;
import soakbench.lines.Reading;

/**
 * One of the rack's sources as it is answered.
 *
 * @param kind serial, udp or tcp
 * @param port its device file, or the address that it listens on
 * @param baud bits per second; null where it is no serial port
 * @param reason why it isn't open, or what is wrong with what comes, in a sentence; or empty
 * @param form the line form of its newest good line, and the next a recent such line; or empty
 * @param sent the newest text that was sent to the tracker, or empty
 * @param senders who sends, newest first; empty for a serial port
 * @param trackers ids heard on it, sorted
 * @param lines all lines since the start, the next two among them
 * @param readings lines that gave a reading
 * @param rejected lines that gave neither a reading nor columns
 * @param lost lines that never came, by the gaps in the trackers' own counters
 * @param lastHeardUs when bytes came last; null while none have
 */
record PortView(
    String slot,
    String kind,
    String port,
    Integer baud,
    boolean open,
    String reason,
    String form,
    String sample,
    String sent,
    List<SourceStatus.Sender> senders,
    List<String> trackers,
    long lines,
    long readings,
    long rejected,
    long lost,
    double linesPerS,
    Long lastHeardUs) {

  static final Table<PortView> TABLE =
      new Table<PortView>()
          .column("slot", PortView::slot)
          .column("port", PortView::port)
          .column("open", PortView::open)
          .column("reason", PortView::reason)
          .column("trackers", v -> String.join(" ", v.trackers()))
          .column("lines", PortView::lines)
          .column("readings", PortView::readings)
          .column("rejected", PortView::rejected)
          .column("lost", PortView::lost)
          .column("lines_per_s", PortView::linesPerS)
          .time("last_heard", PortView::lastHeardUs)
          .column("kind", PortView::kind)
          .column("baud", PortView::baud)
          .column("form", PortView::form)
          .column("sample", PortView::sample)
          .column("sent", PortView::sent)
          .column("senders", PortView::addresses);

  static PortView of(SourceStatus s) {
    SourceStatus.Heard heard = s.heard();
    return new PortView(
        s.slot(),
        s.kind().name().toLowerCase(Locale.ROOT),
        s.port(),
        s.kind() == SourceKind.SERIAL ? s.baud() : null,
        s.open(),
        s.reason(),
        heard.form(),
        heard.sample(),
        s.sent(),
        s.senders(),
        heard.trackers(),
        heard.counts().lines(),
        heard.counts().readings(),
        heard.counts().rejectedTotal(),
        heard.lost(),
        heard.linesPerS(),
        heard.lastHeardUs() == Reading.NO_TIME ? null : heard.lastHeardUs());
  }

  private String addresses() {
    return senders.stream().map(SourceStatus.Sender::address).collect(Collectors.joining(" "));
  }
}

package soakbench.api.health;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import soakbench.api.http.Table;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.LineCounts;
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
 * @param heardOnce ids of which one line came: they count from the second one on
 * @param lines all lines since the start, the next two among them
 * @param readings lines that gave a reading
 * @param rejected lines that gave neither a reading nor columns
 * @param rejections what was wrong with those, most first
 * @param unbelievedTimes readings whose own time could not be right, so that they got another
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
    List<String> heardOnce,
    long lines,
    long readings,
    long rejected,
    List<Rejected> rejections,
    long unbelievedTimes,
    long lost,
    double linesPerS,
    Long lastHeardUs) {

  /**
   * Lines that gave nothing, of one kind.
   *
   * @param reason why the newest of them did
   * @param example the newest of them, at most 120 printable characters
   */
  record Rejected(String kind, long count, String reason, String example) {}

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
          .column("senders", PortView::addresses)
          .column("heard_once", v -> String.join(" ", v.heardOnce()))
          .column("unbelieved_times", PortView::unbelievedTimes);

  static PortView of(SourceStatus s) {
    SourceStatus.Heard heard = s.heard();
    return new PortView(
        s.slot(),
        s.kind().name().toLowerCase(Locale.ROOT),
        s.port(),
        s.kind() == SourceKind.SERIAL ? s.way().baud() : null,
        s.open(),
        s.reason(),
        heard.newest().form(),
        heard.newest().sample(),
        s.sent(),
        s.senders(),
        heard.trackers(),
        heard.heardOnce(),
        heard.counts().lines(),
        heard.counts().readings(),
        heard.counts().rejectedTotal(),
        rejections(heard.counts()),
        heard.counts().unbelievedTimes(),
        heard.lost(),
        heard.linesPerS(),
        heard.newest().atUs() == Reading.NO_TIME ? null : heard.newest().atUs());
  }

  private static List<Rejected> rejections(LineCounts counts) {
    return counts.rejected().entrySet().stream()
        .map(
            e -> {
              LineCounts.Rejected of = e.getValue();
              String kind = e.getKey().name().toLowerCase(Locale.ROOT);
              return new Rejected(kind, of.count(), of.reason(), of.example());
            })
        .sorted(Comparator.comparingLong(Rejected::count).reversed().thenComparing(Rejected::kind))
        .toList();
  }

  private String addresses() {
    return senders.stream().map(SourceStatus.Sender::address).collect(Collectors.joining(" "));
  }
}

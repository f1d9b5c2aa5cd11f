package soakbench.api;

import java.util.List;
import soakbench.ingest.SourceStatus;
import soakbench.lines.Reading;

/**
 * One of the rack's ports as it is answered.
 *
 * @param port its device file
 * @param reason why it isn't open, in a sentence; empty while it is
 * @param trackers ids heard on it, sorted
 * @param lines all lines since the start, the next two among them
 * @param readings lines that gave a reading
 * @param rejected lines that gave neither a reading nor columns
 * @param lost lines that never came, by the gaps in the trackers' own counters
 * @param lastHeardUs when bytes came last; null while none have
 */
record PortView(
    String slot,
    String port,
    boolean open,
    String reason,
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
          .time("last_heard", PortView::lastHeardUs);

  static PortView of(SourceStatus s) {
    return new PortView(
        s.slot(),
        s.port(),
        s.open(),
        s.reason(),
        s.trackers(),
        s.counts().lines(),
        s.counts().readings(),
        s.counts().rejectedTotal(),
        s.lost(),
        s.linesPerS(),
        s.lastHeardUs() == Reading.NO_TIME ? null : s.lastHeardUs());
  }
}

package soakbench.api.health;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.LongSupplier;
import java.util.stream.Collectors;
import soakbench.api.http.Json;
import soakbench.api.http.Table;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.source.SourceStatus.Heard;
import soakbench.ingest.source.SourceTrouble;
import soakbench.lines.LineCounts;
import soakbench.lines.Reading;

/** One of the rack's sources as it is answered. */
final class PortTable {
  /**
   * Lines that gave nothing, of one kind.
   *
   * @param reason why the newest of them did
   * @param example the newest of them, at most 120 printable characters
   */
  record Rejected(String kind, long count, String reason, String example) {}

  private PortTable() {}

  /**
   * The table.
   *
   * @param nowUs by the clock that dates what is heard
   */
  static Table<SourceStatus> of(LongSupplier nowUs) {
    Function<SourceStatus, Optional<SourceTrouble>> trouble =
        s -> SourceTrouble.of(s, nowUs.getAsLong());
    return members(cells(new Table<>()))
        .column("trouble", s -> trouble.apply(s).map(SourceTrouble::what).orElse(null))
        .member("to_try", s -> trouble.apply(s).map(SourceTrouble::toTry).orElse(List.of()));
  }

  private static Table<SourceStatus> members(Table<SourceStatus> table) {
    return table
        .member("slot", SourceStatus::slot)
        .member("kind", SourceStatus::kind)
        .member("port", SourceStatus::port)
        .member("baud", PortTable::baud)
        .member("open", SourceStatus::open)
        .member("reason", SourceStatus::reason)
        .member("form", heard(h -> h.newest().form()))
        .member("sample", heard(h -> h.newest().sample()))
        .member("sent", SourceStatus::sent)
        .member("senders", SourceStatus::senders)
        .member("trackers", heard(Heard::trackers))
        .member("heard_once", heard(Heard::heardOnce))
        .member("lines", counted(LineCounts::lines))
        .member("readings", counted(LineCounts::readings))
        .member("rejected", counted(LineCounts::rejectedTotal))
        .member("rejections", counted(PortTable::rejections))
        .member("unbelieved_times", counted(LineCounts::unbelievedTimes))
        .member("lost", heard(Heard::lost))
        .member("lines_per_s", heard(Heard::linesPerS))
        .memberTime("last_heard", PortTable::lastHeardUs);
  }

  private static Table<SourceStatus> cells(Table<SourceStatus> table) {
    return table
        .cell("slot", SourceStatus::slot)
        .cell("port", SourceStatus::port)
        .cell("open", SourceStatus::open)
        .cell("reason", SourceStatus::reason)
        .cell("trackers", s -> String.join(" ", s.heard().trackers()))
        .cell("lines", counted(LineCounts::lines))
        .cell("readings", counted(LineCounts::readings))
        .cell("rejected", counted(LineCounts::rejectedTotal))
        .cell("lost", heard(Heard::lost))
        .cell("lines_per_s", heard(Heard::linesPerS))
        .cellTime("last_heard", PortTable::lastHeardUs)
        .cell("kind", SourceStatus::kind)
        .cell("baud", PortTable::baud)
        .cell("form", heard(h -> h.newest().form()))
        .cell("sample", heard(h -> h.newest().sample()))
        .cell("sent", SourceStatus::sent)
        .cell("senders", PortTable::addresses)
        .cell("heard_once", s -> String.join(" ", s.heard().heardOnce()))
        .cell("unbelieved_times", counted(LineCounts::unbelievedTimes));
  }

  private static <T> Function<SourceStatus, T> heard(Function<Heard, T> part) {
    return status -> part.apply(status.heard());
  }

  private static <T> Function<SourceStatus, T> counted(Function<LineCounts, T> part) {
    return heard(h -> part.apply(h.counts()));
  }

  /** Null where it is no serial port. */
  private static Integer baud(SourceStatus s) {
    return s.kind() == SourceKind.SERIAL ? s.way().baud() : null;
  }

  /** Null while no bytes have come. */
  private static Long lastHeardUs(SourceStatus s) {
    long atUs = s.heard().newest().atUs();
    return atUs == Reading.NO_TIME ? null : atUs;
  }

  private static String addresses(SourceStatus s) {
    return s.senders().stream().map(SourceStatus.Sender::address).collect(Collectors.joining(" "));
  }

  /** What was wrong with lines, most first. */
  private static List<Rejected> rejections(LineCounts counts) {
    return counts.rejected().entrySet().stream()
        .map(
            e -> {
              LineCounts.Rejected of = e.getValue();
              return new Rejected(Json.word(e.getKey()), of.count(), of.reason(), of.example());
            })
        .sorted(Comparator.comparingLong(Rejected::count).reversed().thenComparing(Rejected::kind))
        .toList();
  }
}

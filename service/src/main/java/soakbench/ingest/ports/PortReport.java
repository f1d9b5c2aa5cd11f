package soakbench.ingest.ports;

import java.util.List;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.LineCounts;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.serial.PortInfo;

/**
 * One serial port as it was seen and heard.
 *
 * @param path its device file
 * @param what what the device calls itself, with its vendor and product id where it has them
 * @param usb the USB socket it's plugged into, or empty
 * @param serialNumber the device's own number, or empty
 * @param state what came of listening
 * @param reason why it can't be used, or why its lines can't be read, in a sentence; or empty
 * @param baud the rate at which it talks; 0 where it doesn't
 * @param form the form of its lines: json, csv or pattern; empty where none could be read
 * @param linesPerS lines a second
 * @param trackers ids that its lines say
 * @param sample one of its lines, or empty
 */
public record PortReport(
    String path,
    String what,
    String usb,
    String serialNumber,
    State state,
    String reason,
    int baud,
    String form,
    double linesPerS,
    List<String> trackers,
    String sample) {

  /** What came of listening to a port. */
  public enum State {
    /** It wasn't listened to. */
    NOT_HEARD,
    /** This user can't use it, or another program does. */
    UNUSABLE,
    /** Nothing came. */
    SILENT,
    /** Bytes came that are no text at any rate. */
    GARBLED,
    /** Text came, but no line that says a temperature or rates. */
    NO_DATA,
    /** Good lines came. */
    TALKS
  }

  public PortReport {
    trackers = List.copyOf(trackers);
  }

  static PortReport of(PortInfo port, String obstacle) {
    State state = obstacle.isEmpty() ? State.NOT_HEARD : State.UNUSABLE;
    return new PortReport(
        port.path(),
        what(port),
        port.location(),
        port.serialNumber(),
        state,
        obstacle,
        0,
        "",
        0,
        List.of(),
        "");
  }

  private static String what(PortInfo port) {
    String ids =
        port.vendorId() < 0 ? "" : "%04x:%04x".formatted(port.vendorId(), port.productId());
    return (port.description() + " " + ids).strip();
  }

  /** Whether it may be opened. */
  public boolean canBeRead() {
    return state != State.UNUSABLE;
  }

  /** Whether its lines lack an id, so that the rack file must say whose they are. */
  public boolean lacksId() {
    return state == State.TALKS && trackers.isEmpty();
  }

  /** The same after listening for so many seconds; garbled where no rate gave text. */
  PortReport heard(SourceStatus status, boolean garbled, double seconds) {
    SourceStatus.Heard heard = status.heard();
    LineCounts counts = heard.counts();
    double linesPerS = Math.round(counts.lines() / seconds * 10) / 10.0;
    if (!status.open()) {
      return with(State.UNUSABLE, status.reason(), 0, heard, "", 0);
    }
    if (counts.readings() + counts.of(Kind.OTHER_SOURCE) > 0) {
      return with(State.TALKS, status.reason(), status.baud(), heard, heard.sample(), linesPerS);
    }
    if (counts.of(Kind.NO_ID) > 0) {
      return with(State.TALKS, "", status.baud(), heard, example(counts, Kind.NO_ID), linesPerS);
    }
    if (heard.lastHeardUs() == Reading.NO_TIME) {
      return with(State.SILENT, "", 0, heard, "", 0);
    }
    if (garbled) {
      String why = "bytes come, but no text at any of the common rates";
      return with(State.GARBLED, why, 0, heard, "", linesPerS);
    }
    return noData(status, linesPerS);
  }

  private PortReport noData(SourceStatus status, double linesPerS) {
    LineCounts counts = status.heard().counts();
    Kind shown = counts.of(Kind.NO_HEADER) > 0 ? Kind.NO_HEADER : Kind.CHATTER;
    String line = example(counts, shown);
    return with(State.NO_DATA, unread(counts), status.baud(), status.heard(), line, linesPerS);
  }

  private static String unread(LineCounts counts) {
    return counts.rejected().entrySet().stream()
        .max((a, b) -> Long.compare(a.getValue().count(), b.getValue().count()))
        .map(most -> most.getValue().reason())
        .orElse("no whole line came");
  }

  private static String example(LineCounts counts, Kind kind) {
    LineCounts.Rejected of = counts.rejected().get(kind);
    return of == null ? "" : of.example();
  }

  private PortReport with(
      State now, String why, int rate, SourceStatus.Heard heard, String line, double linesPerS) {
    return new PortReport(
        path,
        what,
        usb,
        serialNumber,
        now,
        why,
        rate,
        heard.form(),
        linesPerS,
        heard.trackers(),
        line);
  }
}

package soakbench.ingest.ports;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import java.util.List;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.LineCounts;
import soakbench.lines.Reading;
import soakbench.lines.Rejection.Kind;
import soakbench.serial.PortInfo;

/**
 * One serial port as it was seen and heard.
 *
 * @param device what is plugged in, and where
 * @param state what came of listening
 * @param reason why it can't be used, or why its lines can't be read, in a sentence; or empty
 * @param talk what was heard
 */
public record PortReport(
    @JsonUnwrapped Device device, State state, String reason, @JsonUnwrapped Talk talk) {

  /**
   * What is plugged in.
   *
   * @param path its device file
   * @param what what the device calls itself, with its vendor and product id where it has them
   * @param usb the USB socket it's plugged into, or empty
   * @param serialNumber the device's own number, or empty
   */
  public record Device(String path, String what, String usb, String serialNumber) {
    static Device of(PortInfo port) {
      String ids =
          port.vendorId() < 0 ? "" : "%04x:%04x".formatted(port.vendorId(), port.productId());
      String what = (port.description() + " " + ids).strip();
      return new Device(port.path(), what, port.location(), port.serialNumber());
    }
  }

  /**
   * What was heard.
   *
   * @param baud the rate at which it talks; 0 where it doesn't
   * @param form the form of its lines: json, csv or pattern; empty where none could be read
   * @param linesPerS lines a second
   * @param trackers ids that its lines say
   * @param sample one of its lines, or empty
   */
  public record Talk(
      int baud, String form, double linesPerS, List<String> trackers, String sample) {
    static final Talk NONE = new Talk(0, "", 0, List.of(), "");

    public Talk {
      trackers = List.copyOf(trackers);
    }
  }

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

  static PortReport of(PortInfo port, String obstacle) {
    State state = obstacle.isEmpty() ? State.NOT_HEARD : State.UNUSABLE;
    return new PortReport(Device.of(port), state, obstacle, Talk.NONE);
  }

  /** Whether it may be opened. */
  public boolean canBeRead() {
    return state != State.UNUSABLE;
  }

  /** Whether its lines lack an id, so that the rack file must say whose they are. */
  public boolean lacksId() {
    return state == State.TALKS && talk.trackers().isEmpty();
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
      return with(
          State.TALKS,
          status.reason(),
          status.way().baud(),
          heard,
          heard.newest().sample(),
          linesPerS);
    }
    if (counts.of(Kind.NO_ID) > 0) {
      return with(
          State.TALKS, "", status.way().baud(), heard, example(counts, Kind.NO_ID), linesPerS);
    }
    if (heard.newest().atUs() == Reading.NO_TIME) {
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
    return with(
        State.NO_DATA, unread(counts), status.way().baud(), status.heard(), line, linesPerS);
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
    Talk heardNow = new Talk(rate, heard.newest().form(), linesPerS, heard.trackers(), line);
    return new PortReport(device, now, why, heardNow);
  }
}

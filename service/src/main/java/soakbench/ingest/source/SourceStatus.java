package soakbench.ingest.source;

import java.util.List;
import soakbench.lines.LineCounts;

/**
 * One source at one moment.
 *
 * @param slot the slot's name; empty where it serves more than one
 * @param way what its lines come by
 * @param open whether it is open now
 * @param reason why it isn't, in a sentence; while it's open, what is wrong with what comes, or
 *     empty
 * @param senders who sends, newest first; empty for a serial port
 * @param sent the newest text that was sent to the tracker, or empty
 * @param heard its lines
 */
public record SourceStatus(
    String slot,
    Way way,
    boolean open,
    String reason,
    List<Sender> senders,
    String sent,
    Heard heard) {

  public SourceStatus {
    senders = List.copyOf(senders);
  }

  /**
   * What lines come by.
   *
   * @param kind what carries them
   * @param port its device file, or the address that it listens on
   * @param baud bits per second; 0 where it is no serial port
   */
  public record Way(SourceKind kind, String port, int baud) {

    /** What is no serial port. */
    public Way(SourceKind kind, String address) {
      this(kind, address, 0);
    }
  }

  public SourceKind kind() {
    return way.kind();
  }

  public String port() {
    return way.port();
  }

  /** The same in a slot. */
  public SourceStatus inSlot(String name) {
    return new SourceStatus(name, way, open, reason, senders, sent, heard);
  }

  /**
   * Somebody on the network who sends lines.
   *
   * @param address host and port
   * @param trackers ids seen from there, sorted
   * @param linesPerS lines a second over the last seconds
   * @param lastHeardUs when bytes came last, microseconds since 1970
   */
  public record Sender(String address, List<String> trackers, double linesPerS, long lastHeardUs) {

    public Sender {
      trackers = List.copyOf(trackers);
    }
  }

  /**
   * What came from it.
   *
   * @param counts its lines since the start
   * @param newest what came last
   * @param trackers ids seen on it, sorted
   * @param heardOnce ids of which one line came, so that they don't count yet, sorted
   * @param linesPerS lines a second over the last seconds
   * @param lost lines that never came, by the gaps in the trackers' own counters {@code seq}
   */
  public record Heard(
      LineCounts counts,
      Newest newest,
      List<String> trackers,
      List<String> heardOnce,
      double linesPerS,
      long lost) {
    public Heard {
      trackers = List.copyOf(trackers);
      heardOnce = List.copyOf(heardOnce);
    }

    /** Trackers only: their lines are counted elsewhere. */
    public static Heard only(List<String> trackers, long lastHeardUs) {
      Newest newest = new Newest("", "", lastHeardUs);
      return new Heard(LineCounts.NONE, newest, trackers, List.of(), 0, 0);
    }
  }

  /**
   * The newest of what came.
   *
   * @param form the line form of the newest good line: json, csv or pattern; empty before
   * @param sample a recent good line, at most 120 printable characters; empty before
   * @param atUs when bytes came last, microseconds since 1970, or {@link
   *     soakbench.lines.Reading#NO_TIME}
   */
  public record Newest(String form, String sample, long atUs) {}
}

package soakbench.ingest;

import java.util.List;
import soakbench.lines.LineCounts;

/**
 * One source at one moment.
 *
 * @param slot the slot's name
 * @param port its device file
 * @param open whether the port is open now
 * @param reason why it isn't, in a sentence; empty while it's open
 * @param counts its lines since the start
 * @param trackers ids seen on it, sorted
 * @param linesPerS lines a second over the last seconds
 * @param lastHeardUs when bytes came last, microseconds since 1970, or {@link
 *     soakbench.lines.Reading#NO_TIME}
 * @param lost lines that never came, by the gaps in the trackers' own counters {@code seq}
 */
public record SourceStatus(
    String slot,
    String port,
    boolean open,
    String reason,
    LineCounts counts,
    List<String> trackers,
    double linesPerS,
    long lastHeardUs,
    long lost) {

  public SourceStatus {
    trackers = List.copyOf(trackers);
  }
}

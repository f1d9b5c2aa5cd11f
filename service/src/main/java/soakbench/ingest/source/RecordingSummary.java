package soakbench.ingest.source;

import java.util.List;
import soakbench.lines.LineCounts;

/**
 * What a recording held.
 *
 * @param counts its lines
 * @param samples how many samples they gave
 * @param trackers ids seen, sorted
 */
public record RecordingSummary(LineCounts counts, long samples, List<String> trackers) {

  public RecordingSummary {
    trackers = List.copyOf(trackers);
  }
}

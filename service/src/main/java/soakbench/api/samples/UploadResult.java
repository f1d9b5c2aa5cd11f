package soakbench.api.samples;

import java.util.ArrayList;
import java.util.List;
import soakbench.live.SampleSink;

/** What became of an upload, while it is read and when it is done. */
public final class UploadResult {
  private static final int MOST_PROBLEMS = 100;

  private int accepted;
  private int duplicate;
  private int conflicting;
  private int rejected;
  private int rejectedNew;
  private final List<LineProblem> problems = new ArrayList<>();

  /**
   * A line that was not taken.
   *
   * @param line counted from 1 with the header
   * @param elsewhere whether it is of a rack for which another service writes, and for no other
   *     reason
   */
  public record LineProblem(long line, String reason, boolean elsewhere) {}

  /**
   * The answer.
   *
   * @param accepted samples that were new
   * @param duplicate samples that were there already with the same values
   * @param conflicting samples that were there already with other values, which stay
   * @param rejected lines that gave no sample
   * @param problems the first hundred of those
   * @param problemsLeftOff how many more there were
   * @param newTrackersRejected those of them that were of trackers beyond what may be new
   */
  public record Answer(
      int accepted,
      int duplicate,
      int conflicting,
      int rejected,
      List<LineProblem> problems,
      int problemsLeftOff,
      int newTrackersRejected) {}

  void add(SampleSink.Outcome outcome) {
    accepted += outcome.accepted();
    duplicate += outcome.duplicate();
    conflicting += outcome.conflicting();
  }

  void reject(long line, String reason) {
    reject(new LineProblem(line, reason, false));
  }

  /** A line that another service takes. */
  void rejectElsewhere(long line, String reason) {
    reject(new LineProblem(line, reason, true));
  }

  private void reject(LineProblem problem) {
    rejected++;
    if (problems.size() < MOST_PROBLEMS) {
      problems.add(problem);
    }
  }

  /** A line of a tracker that was never heard, where no more of those are taken. */
  void rejectNew(long line, String reason) {
    rejectedNew++;
    reject(line, reason);
  }

  int taken() {
    return accepted + duplicate + conflicting;
  }

  Answer answer() {
    return new Answer(
        accepted,
        duplicate,
        conflicting,
        rejected,
        List.copyOf(problems),
        rejected - problems.size(),
        rejectedNew);
  }
}

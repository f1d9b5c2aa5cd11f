package soakbench.cli.recordings;

import java.util.Set;
import soakbench.live.SampleSink.Outcome;

/** What became of the files of an import, one by one and together. Not thread-safe. */
final class ImportTally {
  private static final int MOST_TRACKERS = 5;

  private int files;
  private int failed;
  private long accepted;
  private long duplicate;
  private long conflicting;

  /**
   * One file.
   *
   * @param unused which lines gave no sample, in words; null where all did
   * @param lots whose lot is another and stays, in words; null for none
   * @param problem why it failed; null where it did not
   */
  record File(Outcome samples, Set<String> trackers, String unused, String lots, String problem) {
    /** In one line. */
    String words() {
      String text =
          samples.accepted()
              + " samples new, "
              + samples.duplicate()
              + " there already"
              + (samples.conflicting() > 0
                  ? ", " + samples.conflicting() + " there with other values, which stay"
                  : "")
              + of()
              + (unused == null ? "" : "; " + unused)
              + (lots == null ? "" : "; " + lots);
      return problem == null ? text : "FAILED, " + problem + " (" + text + ")";
    }

    private String of() {
      String some =
          String.join(", ", trackers.stream().limit(MOST_TRACKERS).toList())
              + (trackers.size() > MOST_TRACKERS ? ", …" : "");
      return trackers.isEmpty() ? "" : ", of " + some;
    }
  }

  /** Adds one; returns its line. */
  String add(File file) {
    files++;
    failed += file.problem() == null ? 0 : 1;
    accepted += file.samples().accepted();
    duplicate += file.samples().duplicate();
    conflicting += file.samples().conflicting();
    return file.words();
  }

  int failed() {
    return failed;
  }

  String words() {
    return "%d of %d files are in, whole: %d samples new, %d there already%s%s"
        .formatted(
            files - failed,
            files,
            accepted,
            duplicate,
            conflicting > 0 ? ", %d there with other values".formatted(conflicting) : "",
            failed > 0 ? "; %d FAILED, see above".formatted(failed) : "");
  }
}

package soakbench.cli.commands;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import soakbench.cli.commands.Replay.SoakReplay;
import soakbench.cli.commands.Replay.TrackerReplay;
import soakbench.model.State;

/** Judged recordings together, in a line. */
final class ReplaySummary {
  private ReplaySummary() {}

  /**
   * The line.
   *
   * @param failed how many files could not be judged
   */
  static String of(Map<Path, Replay.Judged> judged, int failed) {
    List<TrackerReplay> trackers =
        judged.values().stream().flatMap(j -> j.trackers().stream()).toList();
    List<SoakReplay> soaks = trackers.stream().flatMap(t -> t.soaks().stream()).toList();
    double[] readyMin = soaks.stream().mapToDouble(ReplaySummary::readyMin).sorted().toArray();
    long ready = Arrays.stream(readyMin).filter(Double::isFinite).count();
    return String.format(
        Locale.ROOT,
        "%s, %s of %s: %d ready%s, %d never%s",
        counted(judged.size(), "file"),
        counted(soaks.size(), "soak"),
        counted(trackers.stream().map(TrackerReplay::tracker).distinct().count(), "tracker"),
        ready,
        ready == 0
            ? ""
            : String.format(
                Locale.ROOT,
                " (first after %.1f min in the median, %.1f to %.1f)",
                median(readyMin, (int) ready),
                readyMin[0],
                readyMin[(int) ready - 1]),
        soaks.size() - ready,
        failed == 0 ? "" : "; " + counted(failed, "file") + " FAILED");
  }

  private static String counted(long count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }

  /** Of the first so many of these, which are sorted. */
  private static double median(double[] sorted, int count) {
    return (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
  }

  /** When it was ready first, minutes from its beginning; infinity where it never was. */
  private static double readyMin(SoakReplay soak) {
    return soak.timeline().stream()
        .filter(c -> c.state() == State.READY)
        .mapToDouble(c -> (c.timeUs() - soak.extent().startUs()) / 60e6)
        .findFirst()
        .orElse(Double.POSITIVE_INFINITY);
  }
}

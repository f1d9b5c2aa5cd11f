package soakbench.cli.recordings;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import soakbench.cli.options.CommandException;

/** The recordings that are named on a command line, one by one or by their folders. */
public final class RecordingFiles {
  private static final Pattern NAMES = Pattern.compile(".*\\.(jsonl|ndjson|csv|log|txt)(\\.gz)?");

  /** A list of trackers, not a recording. */
  private static final String ROSTER = "roster.csv";

  private RecordingFiles() {}

  /**
   * Files as they are named, and of folders all that have a recording's name, however deep, by
   * name; each once.
   *
   * @throws CommandException if a folder holds none
   * @throws IOException if a folder can't be read
   */
  public static List<Path> of(Collection<Path> named) throws IOException {
    Set<Path> found = new LinkedHashSet<>();
    for (Path one : named) {
      if (Files.isDirectory(one)) {
        found.addAll(inFolder(one));
      } else {
        found.add(one);
      }
    }
    return List.copyOf(found);
  }

  private static List<Path> inFolder(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      List<Path> found =
          all.filter(Files::isRegularFile).filter(RecordingFiles::isRecording).sorted().toList();
      if (found.isEmpty()) {
        throw new CommandException(
            folder
                + " holds no recording: no file in it ends in .jsonl, .ndjson, .csv, .log or .txt,"
                + " or in one of these and .gz");
      }
      return found;
    }
  }

  private static boolean isRecording(Path file) {
    String name = file.getFileName().toString().toLowerCase(Locale.ROOT);
    return NAMES.matcher(name).matches() && !name.equals(ROSTER);
  }
}

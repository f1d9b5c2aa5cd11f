package soakbench.cli.recordings;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.file.AccessDeniedException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import soakbench.cli.options.CommandException;
import soakbench.cli.recordings.ServiceClient.AwayException;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;
import soakbench.ingest.source.RecordingSummary;
import soakbench.lines.LineCounts;
import soakbench.model.Sample;

/**
 * Brings recordings into a service, one after the other: each is read here and sent in pieces. A
 * service that is away for a while is waited for. Not thread-safe.
 */
public final class ImportRun {
  private final ServiceClient service;
  private final LineSettings lines;
  private final String lot;
  private final Duration patience;
  private final PrintWriter out;
  private final ImportTally tally = new ImportTally();
  private long id;

  /**
   * @param lines what is set about the recordings' lines
   * @param lot what their trackers are given in the roster, where they have none; null for nothing
   * @param patience for how long a service that is away is waited for
   * @param out gets a line a file
   */
  public ImportRun(
      ServiceClient service, LineSettings lines, String lot, Duration patience, PrintWriter out) {
    this.service = service;
    this.lines = lines;
    this.lot = lot;
    this.patience = patience;
    this.out = out;
  }

  /** A file can't be used, or no further. */
  private static final class UnusableException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UnusableException(String why) {
      super(why, null, false, false);
    }
  }

  /**
   * Brings all of them.
   *
   * @param goOn the import that is gone on with, whose files that are in are passed over; 0 for a
   *     new one
   * @return whether all are in, whole
   * @throws AwayException if the service was away for too long
   */
  public boolean bring(List<Path> files, long goOn, String sender) throws AwayException {
    Set<String> in = new HashSet<>();
    if (goOn > 0) {
      id = goOn;
      for (JsonNode file : ask("GET", "api/imports/" + id + "/files", null).path("files")) {
        if (!file.path("ended_at").isNull() && file.path("problem").isNull()) {
          in.add(file.path("file").asText());
        }
      }
    } else {
      String path = "api/imports?sender=" + ServiceClient.escaped(sender);
      id = ask("POST", path, null).path("import").asLong();
    }
    out.printf("import %d: %s to %s%n", id, counted(files.size()), service.address());
    out.flush();
    try (Progress progress = Progress.of(files.size())) {
      for (Path file : inOrder(files)) {
        boolean there = in.contains(file.toString());
        String line = there ? "is in already" : tally.add(bring(file, progress));
        progress.ended();
        progress.clear();
        out.println(file + ": " + line);
        out.flush();
      }
    } catch (AwayException e) {
      out.println(tally.words());
      out.printf("To go on when it is there: the same command with --go-on %d%n", id);
      out.flush();
      throw e;
    }
    out.println(tally.words());
    out.printf("To take all of it out again: soakbench import --undo %d --reason \"…\"%n", id);
    out.flush();
    return tally.failed() == 0;
  }

  private static String counted(int files) {
    return files == 1 ? "1 file" : files + " files";
  }

  /** The earliest first, so that none of a tracker comes late. */
  private List<Path> inOrder(List<Path> files) {
    Map<Path, Long> startUs = new HashMap<>();
    for (Path file : files) {
      try {
        startUs.put(file, Recording.startUs(file, lines));
      } catch (IOException e) {
        // Told when its turn comes.
        startUs.put(file, Long.MAX_VALUE);
      }
    }
    return files.stream().sorted(java.util.Comparator.comparing(startUs::get)).toList();
  }

  private ImportTally.File bring(Path file, Progress progress) throws AwayException {
    String path = "api/imports/" + id + "/samples?file=" + ServiceClient.escaped(file.toString());
    ImportPieces pieces = new ImportPieces(service.at(path), this::check, patience);
    LineCounts counts = LineCounts.NONE;
    String problem = null;
    try (InputStream in = progress.read(file)) {
      RecordingSummary summary = read(in, file, pieces);
      counts = summary.counts();
      problem =
          summary.samples() == 0 ? "it holds no sample: " + counts.unused() : pieces.refusal();
    } catch (UnusableException e) {
      problem = e.getMessage();
    } catch (IOException e) {
      problem = words(file, e);
    } catch (ImportPieces.GoneException e) {
      throw new AwayException(e.getMessage(), e);
    }
    return end(file, pieces, counts, problem);
  }

  /** What comes before a fault is sent, too. */
  private RecordingSummary read(InputStream in, Path file, ImportPieces pieces) throws IOException {
    try {
      return Recording.read(in, file.toString(), lines, samples -> take(samples, pieces));
    } finally {
      pieces.flush();
    }
  }

  private static String words(Path file, IOException e) {
    if (e instanceof NoSuchFileException) {
      return "it does not exist";
    }
    if (e instanceof AccessDeniedException) {
      return "this user may not read it";
    }
    String said = e.getMessage() == null ? e.toString() : e.getMessage();
    return said.startsWith(file + " ") ? said.substring(file.toString().length() + 1) : said;
  }

  private void take(List<Sample> samples, ImportPieces pieces) {
    if (pieces.refusal() != null) {
      throw new UnusableException(pieces.refusal());
    }
    for (Sample sample : samples) {
      if (Recording.isUndated(sample)) {
        throw new UnusableException(
            "nothing in it says when it was recorded; add a column or member time, or arrival, to"
                + " its lines");
      }
      if (lines.tracker() != null && !sample.tracker().equals(lines.tracker())) {
        throw new UnusableException(
            "it holds lines of tracker " + sample.tracker() + ", not of --id " + lines.tracker());
      }
      pieces.take(sample);
    }
  }

  private ImportTally.File end(Path file, ImportPieces pieces, LineCounts counts, String problem)
      throws AwayException {
    Map<String, Object> end = new LinkedHashMap<>();
    end.put("file", file.toString());
    end.put("rejected", counts.rejectedTotal());
    end.put("trackers", pieces.trackers());
    end.put("problem", problem);
    String asked = lot == null ? "" : "?lot=" + ServiceClient.escaped(lot);
    JsonNode answer = ask("POST", "api/imports/" + id + "/files" + asked, end);
    String unused = counts.rejectedTotal() > 0 && counts.readings() > 0 ? counts.unused() : null;
    return new ImportTally.File(
        pieces.outcome(),
        pieces.trackers(),
        unused,
        answer.path("other_lots").textValue(),
        problem);
  }

  /** Where the service is there and would not take a piece, it is not sent again. */
  private void check() {
    try {
      JsonNode now = service.ask("GET", "api/imports/" + id, null);
      if (!now.path("undone_at").isNull()) {
        throw new CommandException("import " + id + " was undone meanwhile");
      }
    } catch (AwayException e) {
      // It may come back; the next try shows.
      return;
    }
  }

  private JsonNode ask(String method, String path, Object body) throws AwayException {
    Patience left = new Patience(patience);
    while (true) {
      try {
        return service.ask(method, path, body);
      } catch (AwayException e) {
        if (!left.waits()) {
          throw e;
        }
      }
    }
  }
}

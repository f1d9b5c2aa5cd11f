package soakbench.cli.commands;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.LimitsFile;
import soakbench.cli.options.LineOptions;
import soakbench.cli.recordings.Progress;
import soakbench.cli.recordings.RecordingFiles;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;
import soakbench.lines.LineCounts;
import soakbench.live.SoakSummary;
import soakbench.model.Limits;
import soakbench.model.Tracker;

/** Judges recordings offline. */
@Command(
    name = "replay",
    description = "Judges recordings (.jsonl, .csv, also gzipped) offline, without a database.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench replay --json run.jsonl > run.json"})
public final class ReplayCommand implements Callable<Integer> {
  @Parameters(
      arity = "1..*",
      paramLabel = "FILE|FOLDER",
      description = "recordings, one or more trackers in each, and folders with recordings")
  private List<Path> named;

  /** How the results are written. */
  private static final class Form {
    @Option(names = "--json", description = "everything, for programs, instead of a table")
    private boolean json;

    @Option(names = "--csv", description = "a row a soak with all figures, instead of a table")
    private boolean csv;
  }

  @ArgGroup private Form form = new Form();

  @Option(
      names = "--limits",
      paramLabel = "FILE",
      description = "limits (YAML) instead of the defaults")
  private Path limitsFile;

  @Option(
      names = "--rates",
      paramLabel = "KIND",
      defaultValue = "unknown",
      description =
          "what the firmware takes off: raw (nothing), constant, follows or unknown; checks need"
              + " it")
  private String rates;

  @Mixin private LineOptions lineOptions;

  @Spec private CommandSpec spec;

  private final Map<Path, String> failed = new LinkedHashMap<>();

  @Override
  public Integer call() throws IOException {
    Limits limits = LimitsFile.read(limitsFile);
    LineSettings lines = lineOptions.lines();
    Tracker.Rates declared = rates();
    Map<Path, Replay.Judged> judged = judged(RecordingFiles.of(named), lines, limits, declared);
    PrintWriter out = spec.commandLine().getOut();
    if (form.json) {
      List<Replay.TrackerReplay> trackers =
          judged.values().stream().flatMap(j -> j.trackers().stream()).toList();
      out.println(Json.write(Map.of("trackers", trackers)));
    } else if (form.csv) {
      out.print(ReplayCsv.of(judged));
    } else {
      print(judged, out);
    }
    out.flush();
    failed.forEach((file, why) -> spec.commandLine().getErr().println(file + ": " + why));
    return failed.isEmpty() ? 0 : spec.exitCodeOnExecutionException();
  }

  private Tracker.Rates rates() {
    return Tracker.Rates.of(rates)
        .orElseThrow(
            () ->
                new CommandException(
                    "--rates "
                        + rates
                        + " is none of "
                        + String.join(", ", Tracker.Rates.words())));
  }

  /**
   * Judges the earliest file first, so that later ones use its soaks as earlier soaks. Of several
   * files one that can't be judged doesn't keep the others from it.
   */
  private Map<Path, Replay.Judged> judged(
      List<Path> files, LineSettings lines, Limits limits, Tracker.Rates declared)
      throws IOException {
    List<SoakSummary> earlier = new ArrayList<>();
    Map<Path, Replay.Judged> byFile = new HashMap<>();
    try (Progress progress = Progress.of(files.size())) {
      for (Path file : inOrder(files, lines)) {
        try (InputStream in = progress.read(file)) {
          Replay.Judged one = Replay.of(in, file.toString(), lines, limits, declared, earlier);
          if (one.trackers().isEmpty()) {
            String found = one.summary().counts().unused();
            throw new CommandException(file + " holds no sample: " + found);
          }
          earlier.addAll(one.summaries());
          byFile.put(file, one);
        } catch (IOException | CommandException e) {
          if (files.size() == 1) {
            throw e;
          }
          note(file, e);
        }
        progress.ended();
      }
    }
    Map<Path, Replay.Judged> asNamed = new LinkedHashMap<>();
    files.stream().filter(byFile::containsKey).forEach(f -> asNamed.put(f, byFile.get(f)));
    return asNamed;
  }

  private void note(Path file, Exception why) {
    String words = Objects.requireNonNullElse(why.getMessage(), why.toString());
    boolean named = words.startsWith(file + " ");
    failed.put(file, named ? words.substring(file.toString().length() + 1) : words);
  }

  private List<Path> inOrder(List<Path> files, LineSettings lines) throws IOException {
    Map<Path, Long> startUs = new HashMap<>();
    for (Path file : files) {
      try {
        startUs.put(file, Recording.startUs(file, lines));
      } catch (IOException e) {
        if (files.size() == 1) {
          throw e;
        }
        note(file, e);
      }
    }
    return files.stream()
        .filter(startUs::containsKey)
        .sorted(Comparator.comparing(startUs::get))
        .toList();
  }

  private void print(Map<Path, Replay.Judged> judged, PrintWriter out) {
    ReplayTable table = new ReplayTable(out);
    table.header();
    judged.forEach(
        (file, one) -> {
          for (Replay.TrackerReplay tracker : one.trackers()) {
            tracker.soaks().forEach(soak -> table.row(file, tracker.tracker(), soak));
          }
          LineCounts counts = one.summary().counts();
          if (counts.rejectedTotal() > 0) {
            out.println("  " + file.getFileName() + ": " + counts.unused());
          }
        });
    out.println(ReplaySummary.of(judged, failed.size()));
  }
}

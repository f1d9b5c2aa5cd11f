package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.LimitsFile;
import soakbench.cli.options.PatternOptions;
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
      paramLabel = "FILE",
      description = "recordings, one or more trackers in each")
  private List<Path> files;

  @Option(names = "--json", description = "everything, for programs, instead of a table")
  private boolean json;

  @Option(
      names = "--limits",
      paramLabel = "FILE",
      description = "limits (YAML) instead of the defaults")
  private Path limitsFile;

  @Option(
      names = "--pattern",
      paramLabel = "PATTERN",
      description = "reads lines of another form: a regular expression whose groups are columns")
  private String pattern;

  @Option(names = "--id", paramLabel = "ID", description = "whose the lines are that carry no id")
  private String id;

  @Option(
      names = "--rates",
      paramLabel = "KIND",
      defaultValue = "unknown",
      description =
          "what the firmware takes off: raw (nothing), constant, follows or unknown; checks need"
              + " it")
  private String rates;

  @Mixin private PatternOptions patternOptions;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    List<Replay.Judged> judged = judged(lines(), LimitsFile.read(limitsFile));
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      List<Replay.TrackerReplay> trackers =
          judged.stream().flatMap(j -> j.trackers().stream()).toList();
      out.println(Json.write(Map.of("trackers", trackers)));
    } else {
      print(judged, out);
    }
    out.flush();
    return 0;
  }

  private LineSettings lines() {
    if (id != null && !Tracker.isId(id)) {
      throw new CommandException("--id " + id + " is no id: an id is " + Tracker.ID_RULE);
    }
    return new LineSettings(id, null, patternOptions.spec(pattern));
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

  /** Judges the earliest file first, so that later ones use its soaks as earlier soaks. */
  private List<Replay.Judged> judged(LineSettings lines, Limits limits) throws IOException {
    Tracker.Rates declared = rates();
    Map<Path, Long> startUs = new HashMap<>();
    for (Path file : files) {
      startUs.put(file, Recording.startUs(file, lines));
    }
    List<Path> inOrder = new ArrayList<>(files);
    inOrder.sort(Comparator.comparing(startUs::get));
    List<SoakSummary> earlier = new ArrayList<>();
    Map<Path, Replay.Judged> byFile = new HashMap<>();
    for (Path file : inOrder) {
      Replay.Judged one = Replay.of(file, lines, limits, declared, earlier);
      if (one.trackers().isEmpty()) {
        throw new CommandException(file + " holds no sample: " + one.summary().counts().unused());
      }
      earlier.addAll(one.summaries());
      byFile.put(file, one);
    }
    return files.stream().map(byFile::get).toList();
  }

  private void print(List<Replay.Judged> judged, PrintWriter out) {
    ReplayTable table = new ReplayTable(out);
    table.header();
    for (int i = 0; i < judged.size(); i++) {
      for (Replay.TrackerReplay tracker : judged.get(i).trackers()) {
        tracker.soaks().forEach(soak -> table.row(tracker.tracker(), soak));
      }
      LineCounts counts = judged.get(i).summary().counts();
      if (counts.rejectedTotal() > 0) {
        out.println("  " + files.get(i).getFileName() + ": " + counts.unused());
      }
    }
  }
}

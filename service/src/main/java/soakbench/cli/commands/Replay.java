package soakbench.cli.commands;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import com.fasterxml.jackson.databind.annotation.JsonSerialize;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import soakbench.api.calibrations.CalibrationTable;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;
import soakbench.ingest.source.RecordingSummary;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.calibration.CalibrationFinder;
import soakbench.live.calibration.CalibrationInput;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Readiness;
import soakbench.readiness.ReadyAt;
import soakbench.readiness.Unwrapped;

/** Judges a recording as the service would have, over a store in memory. */
public final class Replay {
  private final MemoryStore store = MemoryStore.forgetful();
  private final SoakWatch watch;
  private final Limits limits;
  private final Rates rates;
  private final Map<String, List<Forecast>> forecasts = new HashMap<>();
  private final Map<String, Readiness> newest = new HashMap<>();
  private final List<Sample> second = new ArrayList<>();

  private Replay(Limits limits, Rates rates, List<SoakSummary> earlier) {
    this.limits = limits;
    this.rates = rates;
    this.watch = new SoakWatch(store, limits, () -> 0, earlier);
    watch.useRates(tracker -> rates);
    watch.subscribe(this::forecast);
  }

  /**
   * What became of one file.
   *
   * @param summaries summaries of its soaks for those of other files; they ended with it
   */
  public record Judged(
      RecordingSummary summary, List<TrackerReplay> trackers, List<SoakSummary> summaries) {}

  /** All soaks of one tracker. */
  public record TrackerReplay(String tracker, List<SoakReplay> soaks) {}

  /**
   * When the tracker was expected to be ready, as forecast at {@code timeUs}: whenever that is
   * another time than before, and once a minute.
   */
  public record Forecast(long timeUs, ReadyAt readyAt) {}

  /**
   * One soak with all that is known of it.
   *
   * @param calibrations marks, questions and their checks
   */
  public record SoakReplay(
      @JsonUnwrapped Extent extent,
      List<StateChange> timeline,
      List<Forecast> forecasts,
      @JsonUnwrapped SoakAnalysis figures,
      @JsonUnwrapped LastVerdict last,
      @JsonSerialize(contentUsing = CalibrationTable.Unnamed.class)
          List<Calibration> calibrations) {}

  /**
   * How far a soak goes.
   *
   * @param rejected lines of the whole file that could not be used
   */
  public record Extent(String soak, long startUs, long endUs, long samples, long rejected) {}

  /**
   * The last verdict.
   *
   * @param unwrapped how long it may lie uncovered
   * @param advice what to do; null where it ended by falling silent
   */
  public record LastVerdict(Unwrapped unwrapped, String advice) {}

  /**
   * Judges one file by itself.
   *
   * @throws IOException if it can't be read; the message names it
   */
  public static Judged of(Path file, Limits limits) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      return of(in, file.toString(), LineSettings.NONE, limits, Rates.UNKNOWN, List.of());
    }
  }

  /**
   * Judges one file.
   *
   * @param in its bytes, gzipped or not
   * @param name what it is called in messages
   * @param lines what is set about its lines
   * @param rates what is declared of the rates of all its trackers
   * @param earlier soaks of other files; those count that ended before one of this file began
   * @throws IOException if it can't be read; the message names it
   */
  static Judged of(
      InputStream in,
      String name,
      LineSettings lines,
      Limits limits,
      Rates rates,
      List<SoakSummary> earlier)
      throws IOException {
    return new Replay(limits, rates, earlier).judge(in, name, lines);
  }

  private Judged judge(InputStream in, String name, LineSettings lines) throws IOException {
    RecordingSummary summary = Recording.read(in, name, lines, this::take);
    flush();
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      List<TrackerReplay> trackers = new ArrayList<>();
      for (Soak last : unit.lastSoaks()) {
        List<SoakReplay> soaks = new ArrayList<>();
        Soak before = null;
        for (Soak soak : unit.soaks(last.tracker(), Long.MIN_VALUE)) {
          soaks.add(replay(unit, soak, before, summary.counts().rejectedTotal()));
          before = soak;
        }
        trackers.add(new TrackerReplay(last.tracker(), soaks));
      }
      List<SoakSummary> summaries =
          unit.summaries(Integer.MAX_VALUE).stream().map(SoakSummary::asEnded).toList();
      return new Judged(summary, trackers, summaries);
    }
  }

  /** Passes samples on second by second, so that no forecast is skipped. */
  private void take(List<Sample> samples) {
    for (Sample s : samples) {
      if (!second.isEmpty() && second.get(second.size() - 1).second() != s.second()) {
        flush();
      }
      second.add(s);
    }
  }

  private void flush() {
    if (!second.isEmpty()) {
      watch.accept(List.copyOf(second));
      second.clear();
    }
  }

  private void forecast(List<Readiness> verdicts) {
    for (Readiness r : verdicts) {
      newest.put(r.soak(), r);
      List<Forecast> ofSoak = forecasts.computeIfAbsent(r.soak(), s -> new ArrayList<>());
      Forecast last = ofSoak.isEmpty() ? null : ofSoak.get(ofSoak.size() - 1);
      boolean due = last == null || r.asOfUs() - last.timeUs() >= 60_000_000L;
      if (due || !Objects.equals(last.readyAt(), r.readyAt())) {
        ofSoak.add(new Forecast(r.asOfUs(), r.readyAt()));
      }
    }
  }

  private String advice(String soak, List<StateChange> timeline) {
    Readiness last = newest.get(soak);
    boolean ended = last == null || timeline.isEmpty();
    return ended || timeline.get(timeline.size() - 1).state() != last.state()
        ? null
        : last.advice();
  }

  private SoakReplay replay(SoakStore.Unit unit, Soak soak, Soak before, long rejected) {
    CalibrationInput ask = CalibrationInput.of(unit, soak, before, Map.of(), limits, rates);
    SoakAnalysis figures = SoakAnalysis.of(unit.bins(soak), limits, rates);
    List<StateChange> timeline = unit.timeline(soak.id());
    return new SoakReplay(
        new Extent(soak.id(), soak.startUs(), soak.endUs(), soak.samples(), rejected),
        timeline,
        forecasts.getOrDefault(soak.id(), List.of()),
        figures,
        new LastVerdict(newest.get(soak.id()).unwrapped(), advice(soak.id(), timeline)),
        CalibrationFinder.of(ask).calibrations());
  }
}

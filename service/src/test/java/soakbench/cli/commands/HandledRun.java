package soakbench.cli.commands;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.ingest.source.Recording;
import soakbench.live.SoakStore;
import soakbench.live.calibration.CalibrationFinder;
import soakbench.live.calibration.CalibrationInput;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;

/** What the service keeps of a simulated run, by way of its lines in a file. */
record HandledRun(SoakStore store, String tracker) {

  static HandledRun of(Recipe recipe) {
    return of(recipe, Rates.UNKNOWN);
  }

  /** The same where something is said of its rates while it soaks. */
  static HandledRun of(Recipe recipe, Rates told) {
    try {
      Path file = Files.createTempFile("soakbench-handled-", ".jsonl");
      try {
        write(recipe, file);
        return new HandledRun(read(file, told), recipe.unit().id());
      } finally {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Its seconds. */
  List<Bin> bins() {
    try (SoakStore.Unit unit = store.begin()) {
      return oneCount(unit.soaks(tracker, Long.MIN_VALUE), unit);
    }
  }

  /** Its calibrations, checked. */
  List<Calibration> calibrations(Rates rates) {
    List<Calibration> found = new ArrayList<>();
    try (SoakStore.Unit unit = store.begin()) {
      Soak before = null;
      for (Soak soak : unit.soaks(tracker, Long.MIN_VALUE)) {
        CalibrationInput ask =
            CalibrationInput.of(unit, soak, before, Map.of(), Limits.DEFAULT, rates);
        found.addAll(CalibrationFinder.of(ask).calibrations());
        before = soak;
      }
    }
    return found;
  }

  /** Writes the run's lines to a file. */
  static void write(Recipe recipe, Path file) throws IOException {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer line = new LineBuffer();
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16)) {
      while (tracker.nextUs() != Long.MAX_VALUE) {
        tracker.next(line);
        out.write(line.bytes(), 0, line.length());
        line.clear();
      }
    }
  }

  private static SoakStore read(Path file, Rates told) throws IOException {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.useRates(tracker -> told);
    Recording.read(file, watch::accept);
    watch.finish();
    return store;
  }

  /** A reboot may begin a new soak, whose boots count from nothing: here they go on. */
  private static List<Bin> oneCount(List<Soak> soaks, SoakStore.Unit unit) {
    List<Bin> all = new ArrayList<>();
    int before = 0;
    for (Soak soak : soaks) {
      long from = soak.startUs() / 1_000_000;
      for (Bin bin : unit.bins(soak.tracker(), from, soak.endUs() / 1_000_000 + 1)) {
        all.add(bin.withBoot(before + bin.boot()));
      }
      before = all.isEmpty() ? 0 : all.get(all.size() - 1).boot() + 1;
    }
    return all;
  }
}

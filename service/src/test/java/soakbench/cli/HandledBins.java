package soakbench.cli;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import soakbench.demo.LineBuffer;
import soakbench.demo.Recipe;
import soakbench.demo.SimulatedTracker;
import soakbench.ingest.Recording;
import soakbench.live.MemoryStore;
import soakbench.live.SoakStore;
import soakbench.live.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;

/** The seconds that the service keeps of a simulated run, by way of its lines in a file. */
final class HandledBins {
  private HandledBins() {}

  static List<Bin> of(Recipe recipe) {
    try {
      Path file = Files.createTempFile("soakbench-handled-", ".jsonl");
      try {
        write(recipe, file);
        return read(file, recipe.unit().id());
      } finally {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
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

  private static List<Bin> read(Path file, String tracker) throws IOException {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    Recording.read(file, watch::accept);
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      return oneCount(unit.soaks(tracker, Long.MIN_VALUE), unit, tracker);
    }
  }

  /** A reboot may begin a new soak, whose boots count from nothing: here they go on. */
  private static List<Bin> oneCount(List<Soak> soaks, SoakStore.Unit unit, String tracker) {
    List<Bin> all = new ArrayList<>();
    int before = 0;
    for (Soak soak : soaks) {
      long from = soak.startUs() / 1_000_000;
      for (Bin bin : unit.bins(tracker, from, soak.endUs() / 1_000_000 + 1)) {
        all.add(booted(bin, before + bin.boot()));
      }
      before = all.isEmpty() ? 0 : all.get(all.size() - 1).boot() + 1;
    }
    return all;
  }

  private static Bin booted(Bin bin, int boot) {
    return new Bin(
        bin.tracker(),
        bin.second(),
        bin.firstUs(),
        bin.lastUs(),
        boot,
        bin.temperatureC(),
        bin.gyroDps(),
        bin.accelG(),
        bin.temperatureStepC(),
        bin.gyroStepDps());
  }
}

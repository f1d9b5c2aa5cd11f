package soakbench.cli;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
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

  private static void write(Recipe recipe, Path file) throws IOException {
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
      return unit.bins(tracker, Long.MIN_VALUE, Long.MAX_VALUE);
    }
  }
}

package soakbench.drift;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import soakbench.demo.SimulateOptions;
import soakbench.demo.SimulateRun;
import soakbench.ingest.Recording;
import soakbench.live.MemoryStore;
import soakbench.live.SoakStore;
import soakbench.live.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;

/** The bins of simulated trackers, made from their printed lines as the service makes them. */
final class SimulatedBins {
  private SimulatedBins() {}

  /** Those of the run's longest soak. */
  static List<Bin> of(SimulateOptions options) {
    try {
      Path lines = Files.createTempFile("soakbench-bins-", ".jsonl");
      try {
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(lines), 1 << 16)) {
          SimulateRun.write(options, out, null);
        }
        return of(lines);
      } finally {
        Files.delete(lines);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static List<Bin> of(Path recording) throws IOException {
    MemoryStore store = MemoryStore.forgetful();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    Recording.read(recording, watch::accept);
    watch.finish();
    List<Bin> longest = new ArrayList<>();
    try (SoakStore.Unit unit = store.begin()) {
      for (Soak last : unit.lastSoaks()) {
        for (Soak s : unit.soaks(last.tracker(), Long.MIN_VALUE)) {
          long from = Math.floorDiv(s.startUs(), 1_000_000L);
          List<Bin> bins = unit.bins(s.tracker(), from, Math.floorDiv(s.endUs(), 1_000_000L) + 1);
          longest = bins.size() > longest.size() ? bins : longest;
        }
      }
    }
    return longest;
  }
}

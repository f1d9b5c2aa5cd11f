package soakbench.drift;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.ingest.source.Recording;
import soakbench.live.SoakStore;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;

/** The bins of simulated trackers, made from their printed lines as the service makes them. */
public final class SimulatedBins {
  private SimulatedBins() {}

  /** Those of the run's longest soak. */
  public static List<Bin> of(SimulateOptions options) {
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

  public static List<Bin> of(Path recording) throws IOException {
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

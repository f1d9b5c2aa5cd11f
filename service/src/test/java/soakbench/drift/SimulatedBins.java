package soakbench.drift;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.ingest.source.Recording;
import soakbench.live.watch.UnjudgedBins;
import soakbench.model.Bin;

/**
 * The bins of simulated trackers, made from their printed lines as the service makes them, and cut
 * into the same soaks.
 */
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

  /** Those of a recording's longest soak. */
  public static List<Bin> of(Path recording) throws IOException {
    UnjudgedBins bins = new UnjudgedBins();
    Recording.read(recording, bins::accept);
    return bins.longest();
  }
}

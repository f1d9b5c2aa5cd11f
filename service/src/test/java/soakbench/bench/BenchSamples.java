package soakbench.bench;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.ingest.source.Recording;
import soakbench.model.Sample;

/** Samples of simulated trackers, as a rack of them would have sent, for measurements. */
public final class BenchSamples {
  private BenchSamples() {}

  /**
   * All samples of a rack in the order of their times, the last of them from just now.
   *
   * @param rateHz lines a second of each
   * @param seconds how long
   * @param folder for a file that is gone afterwards
   */
  public static List<Sample> of(int trackers, double rateHz, int seconds, Path folder)
      throws IOException {
    Instant start = Instant.now().minus(Duration.ofSeconds(seconds));
    List<Sample> samples = new ArrayList<>();
    Path file = folder.resolve("simulated.jsonl");
    for (int number = 1; number <= trackers; number++) {
      SimulateOptions options =
          SimulateOptions.usual(number)
              .withMix(Mix.CLEAN)
              .lasting(seconds)
              .printing(rateHz)
              .named("BENCH-" + number)
              .withAccelerometer(true)
              .startingAt(start);
      try (OutputStream lines = Files.newOutputStream(file)) {
        SimulateRun.write(options, lines, null);
      }
      Recording.read(file, samples::addAll);
    }
    Files.delete(file);
    samples.sort(Comparator.comparingLong(Sample::timeUs));
    return samples;
  }

  /** The same cut into pieces of this size, the last one what is left. */
  public static List<List<Sample>> batches(List<Sample> samples, int size) {
    List<List<Sample>> batches = new ArrayList<>();
    for (int at = 0; at < samples.size(); at += size) {
      batches.add(List.copyOf(samples.subList(at, Math.min(at + size, samples.size()))));
    }
    return batches;
  }
}

package soakbench.bench;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.stream.LongStream;
import soakbench.cli.commands.Replay;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Correction;
import soakbench.model.Limits;
import soakbench.model.StateChange;

/**
 * Simulates trackers, judges their lines as a recording, and holds the verdicts against the truth.
 */
final class VerdictRuns {
  private static final double[] RATES_HZ = {5, 10, 20, 25, 10};
  private static final Instant START = Instant.parse("2026-01-01T08:00:00Z");

  private VerdictRuns() {}

  /**
   * An hour of each of {@code count} trackers.
   *
   * @param seed of the first; every tracker has one of its own
   */
  static List<VerdictScore> of(Mix mix, int count, long seed, Limits limits) {
    return of(mix, count, seed, limits, Correction.NONE);
  }

  /** The same of trackers whose firmware takes something off their rates. */
  static List<VerdictScore> of(
      Mix mix, int count, long seed, Limits limits, Correction correction) {
    // Far apart: the same seed gives much the same unit in every mix.
    long first = seed * 1_000_003L + 7_919L * mix.ordinal();
    return LongStream.range(0, count)
        .parallel()
        .mapToObj(i -> one(mix, first + i, limits, correction))
        .toList();
  }

  private static VerdictScore one(Mix mix, long seed, Limits limits, Correction correction) {
    double rateHz = RATES_HZ[(int) Math.floorMod(seed, RATES_HZ.length)];
    SimulateOptions options =
        SimulateOptions.usual(seed)
            .withMix(mix)
            .printing(rateHz)
            .startingAt(START)
            .withCorrection(correction);
    try {
      Path lines = Files.createTempFile("soakbench-verdict-", ".jsonl");
      try {
        Recipe recipe;
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(lines), 1 << 16)) {
          recipe = SimulateRun.write(options, out, null);
        }
        return score(Truth.of(recipe), Replay.of(lines, limits));
      } finally {
        Files.delete(lines);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static VerdictScore score(Truth truth, Replay.Judged judged) {
    List<Replay.SoakReplay> soaks =
        judged.trackers().stream().flatMap(t -> t.soaks().stream()).toList();
    List<StateChange> timeline = soaks.stream().flatMap(s -> s.timeline().stream()).toList();
    List<Replay.Forecast> forecasts = soaks.stream().flatMap(s -> s.forecasts().stream()).toList();
    return VerdictScore.of(truth, timeline, forecasts);
  }
}

package soakbench.bench;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.function.LongFunction;
import java.util.stream.LongStream;
import soakbench.cli.commands.Replay;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.simulation.Strange;
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
    return of(first(seed, mix.ordinal()), count, s -> options(mix, s, correction), limits);
  }

  /** The same of trackers of the usual mix with troubles forced upon them. */
  static List<VerdictScore> of(
      Forced forced, int count, long seed, Limits limits, Correction correction) {
    long first = first(seed, Mix.values().length + forced.ordinal());
    return of(first, count, s -> options(Mix.USUAL, s, correction).with(forced.troubles()), limits);
  }

  /** Far apart: the same seed gives much the same unit in every mix. */
  private static long first(long seed, int set) {
    return seed * 1_000_003L + 7_919L * set;
  }

  private static List<VerdictScore> of(
      long first, int count, LongFunction<SimulateOptions> options, Limits limits) {
    return LongStream.range(first, first + count)
        .parallel()
        .mapToObj(s -> one(options.apply(s), limits))
        .toList();
  }

  private static SimulateOptions options(Mix mix, long seed, Correction correction) {
    // Strange kinds go by turns of the seed, so that one kind would have one rate alone.
    long turn = mix == Mix.STRANGE ? Math.floorDiv(seed, Strange.values().length) : seed;
    return SimulateOptions.usual(seed)
        .withMix(mix)
        .printing(RATES_HZ[(int) Math.floorMod(turn, RATES_HZ.length)])
        .startingAt(START)
        .withCorrection(correction);
  }

  private static VerdictScore one(SimulateOptions options, Limits limits) {
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

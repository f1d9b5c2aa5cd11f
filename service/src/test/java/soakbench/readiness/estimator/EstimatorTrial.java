package soakbench.readiness.estimator;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.LongStream;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Strange;
import soakbench.demo.simulation.Trouble;

/** Judges simulated trackers and prints what the verdicts are worth. */
final class EstimatorTrial {
  private EstimatorTrial() {}

  /** Mixes, how many, seed, and {@code notes} for every late or harmful one. */
  public static void main(String[] args) {
    int count = Integer.parseInt(args[1]);
    long seed = Long.parseLong(args[2]);
    boolean notes = args.length > 3 && args[3].contains("notes");
    for (String mix : args[0].split(",")) {
      trial(mix, count, seed, notes);
    }
  }

  static Map<String, Tally> trial(String mix, int count, long seed, boolean notes) {
    Map<String, Tally> tallies = new LinkedHashMap<>();
    for (TrackedRun run : runs(mix, count, seed)) {
      String kind =
          mix.equals("strange")
              ? run.kind()
              : run.coarse() ? "coarse" : run.cycling() ? "cycling" : "steady";
      Course mine = Course.judged(run);
      tallies.computeIfAbsent(mix + " all", k -> new Tally()).add(run, mine);
      tallies.computeIfAbsent(mix + " " + kind, k -> new Tally()).add(run, mine);
      String slope = run.steepest() < 0.02 ? "gentle" : run.steepest() < 0.05 ? "usual" : "steep";
      tallies.computeIfAbsent(mix + " " + slope + " axes", k -> new Tally()).add(run, mine);
    }
    tallies.forEach((k, v) -> v.print(k, notes && k.contains("all")));
    return tallies;
  }

  /** So many trackers of a mix; of strange ones so many of each kind. */
  static List<TrackedRun> runs(String mix, int count, long seed) {
    int all = mix.equals("strange") ? count * Strange.values().length : count;
    return LongStream.range(0, all).mapToObj(i -> run(mix, seed * 1_000_003L + i)).toList();
  }

  private static TrackedRun run(String mix, long seed) {
    return switch (mix) {
      case "clean", "usual", "nasty", "strange" -> TrackedRun.of(mix(mix), seed);
      case "cycling" -> forced(Mix.USUAL, seed);
      case "steep" -> forced(Mix.USUAL, seed, Trouble.STEEP_AXIS);
      case "coarse" -> forced(Mix.USUAL, seed, Trouble.COARSE_THERMOMETER);
      case "coarsesteep" -> forced(Mix.USUAL, seed, Trouble.STEEP_AXIS, Trouble.COARSE_THERMOMETER);
      case "nastysteep" -> forced(Mix.NASTY, seed, Trouble.STEEP_AXIS);
      case "nastycoarse" -> forced(Mix.NASTY, seed, Trouble.COARSE_THERMOMETER);
      case "nastycoarsesteep" ->
          forced(Mix.NASTY, seed, Trouble.STEEP_AXIS, Trouble.COARSE_THERMOMETER);
      default -> throw new IllegalArgumentException("no mix " + mix);
    };
  }

  private static Mix mix(String word) {
    return Mix.valueOf(word.toUpperCase(Locale.ROOT));
  }

  /** In a room whose heating cycles. */
  private static TrackedRun forced(Mix mix, long seed, Trouble... others) {
    Trouble[] sure = Arrays.copyOf(others, others.length + 1);
    sure[others.length] = Trouble.HEATING_CYCLE;
    return TrackedRun.of(mix, seed, sure);
  }
}

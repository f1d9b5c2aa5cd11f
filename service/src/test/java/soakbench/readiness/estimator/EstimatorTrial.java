package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.demo.simulation.Mix;

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

  static List<TrackedRun> runs(String mix, int count, long seed) {
    List<TrackedRun> out = new ArrayList<>();
    if (mix.equals("strange")) {
      for (int i = 0; i < count; i++) {
        for (String kind : StrangeRuns.KINDS) {
          out.add(StrangeRuns.of(kind, seed * 1_000_003L + i));
        }
      }
      return out;
    }
    for (int i = 0; i < count; i++) {
      long one = seed * 1_000_003L + i;
      out.add(
          switch (mix) {
            case "clean" -> TrackedRun.of(Mix.CLEAN, 0, one, 0, 0);
            case "usual" -> TrackedRun.of(Mix.USUAL, 1, one, 0, 0);
            case "nasty" -> TrackedRun.of(Mix.NASTY, 2, one, 0, 0);
            case "cycling" -> TrackedRun.of(Mix.USUAL, 3, one, 0, 0);
            case "steep" -> TrackedRun.of(Mix.USUAL, 3, one, 0, 0.05);
            case "nastysteep" -> TrackedRun.of(Mix.NASTY, 3, one, 0, 0.05);
            case "nastycoarse" -> TrackedRun.of(Mix.NASTY, 3, one, 0.5, 0);
            case "nastycoarsesteep" -> TrackedRun.of(Mix.NASTY, 3, one, 0.5, 0.05);
            case "coarse" -> TrackedRun.of(Mix.USUAL, 3, one, 0.5, 0);
            case "coarsesteep" -> TrackedRun.of(Mix.USUAL, 3, one, 0.5, 0.05);
            default -> throw new IllegalArgumentException("no mix " + mix);
          });
    }
    return out;
  }
}

package soakbench.bench;

import java.util.List;
import java.util.concurrent.Callable;
import java.util.function.Predicate;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Strange;
import soakbench.demo.unit.Correction;
import soakbench.model.Limits;

/** How often the verdict is wrong, late or missing, over simulated trackers with known truth. */
@Command(
    name = "verdict",
    description =
        "Judges an hour of each of many simulated trackers and holds it against the truth.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench bench verdict --mix usual --trackers 200 --seed 1",
      "Example: soakbench bench verdict --forced STEEP_CYCLING,STEEP_CYCLING_LID --trackers 50",
      "",
      "The mixes are told in docs/methods.md. STRANGE has ten kinds by turns and is not for tuning."
    })
final class BenchVerdictCommand implements Callable<Integer> {
  @Option(
      names = "--mix",
      split = ",",
      defaultValue = "clean,usual,nasty",
      description = "${COMPLETION-CANDIDATES} (default ${DEFAULT-VALUE})")
  private List<Mix> mixes;

  @Option(
      names = "--forced",
      split = ",",
      description = {
        "in place of the mixes, the usual one with troubles forced together:",
        "STEEP_CYCLING: an axis of 0.05 to 0.12 deg/s per degC, a room whose heating cycles;",
        "STEEP_CYCLING_COARSE: behind thermometer steps of 0.5 degC as well;",
        "STEEP_CYCLING_LID: a lid is opened as well;",
        "STEEP_CYCLING_PICKED_UP: it is picked up as well"
      })
  private List<Forced> forced = List.of();

  @Option(
      names = "--trackers",
      defaultValue = "100",
      description = "trackers a mix, or a forced set (default ${DEFAULT-VALUE})")
  private int trackers;

  @Option(
      names = "--seed",
      defaultValue = "1",
      description = "what they are drawn from (default ${DEFAULT-VALUE})")
  private long seed;

  @Option(
      names = "--correction",
      defaultValue = "NONE",
      description =
          "what their firmware takes off their rates: ${COMPLETION-CANDIDATES}"
              + " (default ${DEFAULT-VALUE})")
  private Correction.Kind correction;

  @Option(
      names = "--correction-s",
      defaultValue = "0",
      description = "how fast it follows them, s; for those that follow")
  private double correctionS;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    Correction inside = correction();
    if (!forced.isEmpty()) {
      for (Forced set : forced) {
        print(set.word(), VerdictRuns.of(set, trackers, seed, Limits.DEFAULT, inside));
      }
      return 0;
    }
    for (Mix mix : mixes) {
      List<VerdictScore> scores = VerdictRuns.of(mix, trackers, seed, Limits.DEFAULT, inside);
      print(mix.word(), scores);
      if (mix == Mix.STRANGE) {
        printEachStrange(scores);
      } else if (mix != Mix.CLEAN) {
        print(mix.word() + ", room with a heating cycle", only(scores, VerdictScore::cycling));
        print(mix.word() + ", without", only(scores, s -> !s.cycling()));
      }
    }
    return 0;
  }

  private void printEachStrange(List<VerdictScore> scores) {
    for (Strange kind : Strange.values()) {
      print(kind.word(), only(scores, s -> s.scenarios().contains(kind.word())));
    }
  }

  private static List<VerdictScore> only(List<VerdictScore> scores, Predicate<VerdictScore> which) {
    return scores.stream().filter(which).toList();
  }

  private void print(String what, List<VerdictScore> scores) {
    new VerdictTable(scores).print(what, spec.commandLine().getOut());
  }

  private Correction correction() {
    try {
      return new Correction(correction, correctionS);
    } catch (IllegalArgumentException e) {
      throw new CommandException(e.getMessage(), e);
    }
  }
}

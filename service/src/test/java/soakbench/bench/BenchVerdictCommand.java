package soakbench.bench;

import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.demo.simulation.Mix;
import soakbench.demo.unit.Correction;
import soakbench.model.Limits;

/** How often the verdict is wrong, late or missing, over simulated trackers with known truth. */
@Command(
    name = "verdict",
    description =
        "Judges an hour of each of many simulated trackers and holds it against the truth.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench verdict --mix usual --trackers 200 --seed 1"})
final class BenchVerdictCommand implements Callable<Integer> {
  @Option(
      names = "--mix",
      split = ",",
      defaultValue = "clean,usual,nasty",
      description = "${COMPLETION-CANDIDATES} (default ${DEFAULT-VALUE})")
  private List<Mix> mixes;

  @Option(
      names = "--trackers",
      defaultValue = "100",
      description = "trackers a mix (default ${DEFAULT-VALUE})")
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
    for (Mix mix : mixes) {
      List<VerdictScore> scores = VerdictRuns.of(mix, trackers, seed, Limits.DEFAULT, inside);
      new VerdictTable(scores)
          .print(mix.name().toLowerCase(java.util.Locale.ROOT), spec.commandLine().getOut());
    }
    return 0;
  }

  private Correction correction() {
    try {
      return new Correction(correction, correctionS);
    } catch (IllegalArgumentException e) {
      throw new CommandException(e.getMessage(), e);
    }
  }
}

package soakbench.cli.commands;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.cli.options.StoreOptions;
import soakbench.cli.recordings.ProgressLine;
import soakbench.cli.running.GivenUp;
import soakbench.store.backup.Backup;
import soakbench.store.backup.Summary;

/** Copies a store into a file. */
@Command(
    name = "backup",
    description =
        "Writes all that is stored into one file, also while the service runs: samples, figures,"
            + " marks, limits, roster.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench backup workshop.zip",
      "The file replaces an earlier backup of that name once it is whole; see also restore."
    })
public final class BackupCommand implements Callable<Integer> {
  @Parameters(paramLabel = "FILE", description = "the backup to write, for its owner to read")
  private Path file;

  @Mixin private StoreOptions store;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    try (ProgressLine line = ProgressLine.onTerminal()) {
      Summary written = GivenUp.whenStopped(() -> Backup.write(store.settings(), file, line::show));
      line.close();
      spec.commandLine().getOut().println(file + " is written: " + written.words());
      spec.commandLine().getOut().flush();
    }
    return 0;
  }
}

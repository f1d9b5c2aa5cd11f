package soakbench.cli.commands;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.cli.options.StoreOptions;
import soakbench.cli.recordings.ProgressLine;
import soakbench.cli.running.GivenUp;
import soakbench.store.backup.Restore;
import soakbench.store.backup.Summary;

/** Puts a backup into an empty store. */
@Command(
    name = "restore",
    description = "Puts a backup into an empty store of either kind; all of it, or nothing.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench restore workshop.zip --data restored",
      "Only a look whether a backup is whole: soakbench restore --check workshop.zip"
    })
public final class RestoreCommand implements Callable<Integer> {
  @Parameters(paramLabel = "FILE", description = "the backup")
  private Path file;

  @Mixin private StoreOptions store;

  @Option(names = "--check", description = "reads the file to its end, and restores nothing")
  private boolean checkOnly;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    try (ProgressLine line = ProgressLine.onTerminal()) {
      Summary read = GivenUp.whenStopped(() -> work(line));
      line.close();
      String done =
          checkOnly ? file + " is whole: " : store.settings() + " is restored from " + file + ": ";
      spec.commandLine().getOut().println(done + read.words());
      spec.commandLine().getOut().flush();
    }
    return 0;
  }

  private Summary work(ProgressLine line) throws IOException {
    return checkOnly
        ? Restore.check(file, line::show)
        : Restore.into(store.settings(), file, line::show);
  }
}

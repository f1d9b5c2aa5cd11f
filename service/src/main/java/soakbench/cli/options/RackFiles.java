package soakbench.cli.options;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import soakbench.ingest.ports.PortReport;
import soakbench.ingest.ports.RackDraft;

/** Writes a rack file of what was heard. */
public final class RackFiles {
  private RackFiles() {}

  /**
   * Checks before listening what would fail after it.
   *
   * @throws CommandException if the file is there already and may not be replaced
   */
  public static void check(Path file, boolean force) {
    if (Files.isDirectory(file)) {
      throw new CommandException(file + " is a folder; name a file in it");
    }
    if (!force && Files.exists(file)) {
      throw there(file, null);
    }
  }

  private static CommandException there(Path file, IOException cause) {
    String what = file + " is there already; name another file, or replace it with --force";
    return cause == null ? new CommandException(what) : new CommandException(what, cause);
  }

  /**
   * Writes a slot for each port that talks.
   *
   * @throws CommandException if none talks, or the file is there already and may not be replaced
   */
  public static void write(Path file, List<PortReport> ports, boolean force) throws IOException {
    RackDraft draft = new RackDraft(ports);
    if (draft.size() == 0) {
      throw new CommandException(
          file + " is not written: no port talks, so there is no slot to write");
    }
    StandardOpenOption how =
        force ? StandardOpenOption.TRUNCATE_EXISTING : StandardOpenOption.CREATE_NEW;
    try {
      Files.writeString(
          file, draft.yaml(), StandardOpenOption.WRITE, StandardOpenOption.CREATE, how);
    } catch (FileAlreadyExistsException e) {
      throw there(file, e);
    }
  }
}

package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.OwnerOnly;

/**
 * Keeps the spool to the user who runs the program: others have no business in what is measured.
 */
final class SpoolAccess {
  private static final Logger LOG = LoggerFactory.getLogger(SpoolAccess.class);

  private SpoolAccess() {}

  /**
   * Makes a spool's file where it is missing, and lets nobody but the owner read it and what lies
   * beside it. SQLite gives its logs the permissions of the file. Where that can't be, it is
   * logged.
   */
  static void keepToOwner(Path file) throws IOException {
    if (!OwnerOnly.isPossible()) {
      LOG.debug("{}: this file system knows no owner-only files", file);
      return;
    }
    if (!Files.exists(file)) {
      OwnerOnly.makeFile(file);
    }
    for (String ending : new String[] {"", "-wal", "-shm", ".lock"}) {
      Path each = file.resolveSibling(file.getFileName() + ending);
      if (Files.exists(each)) {
        keep(each);
      }
    }
  }

  private static void keep(Path file) {
    try {
      OwnerOnly.keep(file);
    } catch (IOException e) {
      LOG.warn(
          "other users of this computer may read the spool's file {}, as its permissions can't be"
              + " changed ({}); change them, or name a file of your own with --spool",
          file,
          e.toString());
    }
  }
}

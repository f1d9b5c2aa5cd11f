package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps the spool to the user who runs the program: others have no business in what is measured.
 */
final class SpoolAccess {
  private static final Logger LOG = LoggerFactory.getLogger(SpoolAccess.class);
  private static final Set<PosixFilePermission> FILE = PosixFilePermissions.fromString("rw-------");
  private static final Set<PosixFilePermission> FOLDER =
      PosixFilePermissions.fromString("rwx------");

  private SpoolAccess() {}

  /** Makes a folder that is missing, for the owner only; one that is there stays as it is. */
  static void makeFolder(Path folder) throws IOException {
    if (isPosix(folder)) {
      Files.createDirectories(folder, PosixFilePermissions.asFileAttribute(FOLDER));
    } else {
      Files.createDirectories(folder);
    }
  }

  /**
   * Makes a spool's file where it is missing, and lets nobody but the owner read it and what lies
   * beside it. SQLite gives its logs the permissions of the file. Where that can't be, it is said.
   */
  static void keepToOwner(Path file) throws IOException {
    if (!isPosix(file)) {
      LOG.debug("{}: this file system knows no owner-only files", file);
      return;
    }
    if (!Files.exists(file)) {
      Files.createFile(file, PosixFilePermissions.asFileAttribute(FILE));
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
      if (!Files.getPosixFilePermissions(file).equals(FILE)) {
        Files.setPosixFilePermissions(file, FILE);
      }
    } catch (IOException e) {
      LOG.warn(
          "other users of this computer may read the spool's file {}, as its permissions can't be"
              + " changed ({}); change them, or name a file of your own with --spool",
          file,
          e.toString());
    }
  }

  private static boolean isPosix(Path path) {
    return path.getFileSystem().supportedFileAttributeViews().contains("posix");
  }
}

package soakbench.host;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;

/** Files and folders that nobody but the user who runs the program may open. */
public final class OwnerOnly {
  private static final Set<PosixFilePermission> FILE = PosixFilePermissions.fromString("rw-------");
  private static final Set<PosixFilePermission> FOLDER =
      PosixFilePermissions.fromString("rwx------");

  private OwnerOnly() {}

  /** Whether the file system knows such files at all. */
  public static boolean isPossible() {
    return Path.of("").getFileSystem().supportedFileAttributeViews().contains("posix");
  }

  /** Makes a file; it must not be there yet. */
  public static void makeFile(Path file) throws IOException {
    Files.createFile(file, attributes(FILE));
  }

  /** Makes a folder that is missing; one that is there stays as it is. */
  public static void makeFolder(Path folder) throws IOException {
    Files.createDirectories(folder, attributes(FOLDER));
  }

  /** Takes a file that is there away from everybody else. */
  public static void keep(Path file) throws IOException {
    if (!Files.getPosixFilePermissions(file).equals(FILE)) {
      Files.setPosixFilePermissions(file, FILE);
    }
  }

  private static FileAttribute<?>[] attributes(Set<PosixFilePermission> permissions) {
    return isPossible()
        ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(permissions)}
        : new FileAttribute<?>[0];
  }
}

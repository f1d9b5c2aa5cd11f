package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Sets where SQLite's native code is unpacked to: beside the spool. In the folder for temporary
 * files each kill -9 would leave a copy behind for good, and that folder may be mounted noexec.
 */
final class SpoolLibrary {
  private static final String FOLDER = "org.sqlite.tmpdir";
  private static final long NEEDED_BYTES = 8 << 20;

  private static final boolean SET_BY_USER = System.getProperty(FOLDER) != null;

  private SpoolLibrary() {}

  /**
   * To be called before the first connection, by who has the spool's lock, so that nobody else uses
   * the folder. Where the user has set one, that is used.
   */
  static void prepare(Path spool) throws IOException {
    prepare(spool, SET_BY_USER);
  }

  static synchronized void prepare(Path spool, boolean setByUser) throws IOException {
    String set = System.getProperty(FOLDER);
    // One chosen here may be gone with a spool that was refused before its first connection.
    if (setByUser || set != null && Files.isDirectory(Path.of(set))) {
      return;
    }
    Path folder = spool.toAbsolutePath().resolveSibling(spool.getFileName() + ".lib");
    Files.createDirectories(folder);
    try (DirectoryStream<Path> left = Files.newDirectoryStream(folder, "sqlite-*")) {
      for (Path copy : left) {
        Files.delete(copy);
      }
    }
    // On a full disk the folder for temporary files is the better place.
    if (Files.getFileStore(folder).getUsableSpace() > NEEDED_BYTES) {
      System.setProperty(FOLDER, folder.toString());
    } else {
      System.clearProperty(FOLDER);
    }
  }
}

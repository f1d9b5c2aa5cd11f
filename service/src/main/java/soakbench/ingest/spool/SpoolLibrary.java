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

  /** What was set here, which is gone where the spool that it was for was never opened. */
  private static String chosen;

  private SpoolLibrary() {}

  /**
   * To be called before the first connection, by who has the spool's lock, so that nobody else uses
   * the folder. Where the user has set one, that is used.
   */
  static synchronized void prepare(Path spool) throws IOException {
    String set = System.getProperty(FOLDER);
    if (set != null && (!set.equals(chosen) || Files.isDirectory(Path.of(set)))) {
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
      chosen = folder.toString();
      System.setProperty(FOLDER, chosen);
    }
  }
}

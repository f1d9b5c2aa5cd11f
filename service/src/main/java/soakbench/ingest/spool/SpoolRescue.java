package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.SQLException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Sets a broken spool aside, never deleting it, and takes its good samples over into a new one. The
 * new file is finished before the old one is moved: a crash in the middle loses nothing.
 */
final class SpoolRescue {
  private static final Logger LOG = LoggerFactory.getLogger(SpoolRescue.class);

  private final Path file;
  private final Path next;

  SpoolRescue(Path file) {
    this.file = file;
    this.next = beside(file, ".new");
  }

  /** Ends a rescue that was cut off: the new file is whole where the old one has gone already. */
  void finishEarlier() throws IOException {
    if (!Files.exists(file) && Files.exists(next)) {
      moveLog(beside(file, ".broken-" + (firstFree() - 1)));
      Files.move(next, file);
    } else {
      deleteNext();
    }
  }

  /**
   * Sets the file aside and puts a new one in its place.
   *
   * @param fault what is wrong with it, in words that fit after "as it"
   */
  void run(String fault) throws IOException, SQLException {
    deleteNext();
    long kept;
    SpoolAccess.keepToOwner(next);
    try (Connection to = SpoolFile.connect(next)) {
      kept = SpoolSalvage.run(file, to);
      SpoolFile.execute(to, "PRAGMA wal_checkpoint(TRUNCATE)");
    }
    Path aside = beside(file, ".broken-" + firstFree());
    Files.move(file, aside);
    moveLog(aside);
    Files.move(next, file, StandardCopyOption.ATOMIC_MOVE);
    LOG.warn(
        "the spool {} was set aside as {}, as it {}; the {} samples in it that were whole are sent",
        file,
        aside.getFileName(),
        fault,
        kept);
  }

  /** SQLite's log of changes belongs to the file. */
  private void moveLog(Path aside) throws IOException {
    Path log = beside(file, "-wal");
    if (Files.exists(log)) {
      Files.move(log, beside(aside, "-wal"), StandardCopyOption.REPLACE_EXISTING);
    }
    Files.deleteIfExists(beside(file, "-shm"));
  }

  private int firstFree() {
    int number = 1;
    while (Files.exists(beside(file, ".broken-" + number))) {
      number++;
    }
    return number;
  }

  private void deleteNext() throws IOException {
    for (String ending : new String[] {"", "-wal", "-shm"}) {
      Files.deleteIfExists(beside(next, ending));
    }
  }

  private static Path beside(Path file, String ending) {
    return file.resolveSibling(file.getFileName() + ending);
  }
}

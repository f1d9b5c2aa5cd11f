package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is spooled is for the user who runs the program alone. */
class SpoolAccessTest {
  @TempDir private Path folder;

  private static String permissions(Path path) throws IOException {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
  }

  private static void assertOwnerOnly(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      List<Path> all = files.toList();
      assertThat(all).extracting(p -> p.getFileName().toString()).contains("spool.db-wal");
      for (Path file : all) {
        if (Files.isRegularFile(file)) {
          assertThat(permissions(file)).as(file.toString()).isEqualTo("rw-------");
        }
      }
    }
  }

  @Test
  void aNewSpoolAndItsFolderAreTheOwnersOnly() throws IOException {
    Path own = folder.resolve("made").resolve("here");
    try (SqliteSpool spool = SqliteSpool.open(own.resolve("spool.db"), 1 << 24)) {
      spool.append(SpooledSamples.of(0, 100));
      assertOwnerOnly(own);
    }
    assertThat(permissions(own)).isEqualTo("rwx------");
  }

  @Test
  void oneThatOthersCouldReadIsClosedToThemAndAFolderThatWasThereStaysAsItIs() throws IOException {
    Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("rwxr-xr-x"));
    Path file = folder.resolve("spool.db");
    try (SqliteSpool spool = SqliteSpool.open(file, 1 << 24)) {
      spool.append(SpooledSamples.of(0, 100));
      for (String ending : List.of("", "-wal", "-shm", ".lock")) {
        Files.setPosixFilePermissions(
            folder.resolve("spool.db" + ending), PosixFilePermissions.fromString("rw-r--r--"));
      }
    }
    try (SqliteSpool spool = SqliteSpool.open(file, 1 << 24)) {
      assertThat(spool.status().waiting()).isEqualTo(100);
      spool.append(SpooledSamples.of(100, 10));
      assertOwnerOnly(folder);
    }
    assertThat(permissions(folder)).isEqualTo("rwxr-xr-x");
  }
}

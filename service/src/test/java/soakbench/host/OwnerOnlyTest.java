package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OwnerOnlyTest {
  @TempDir Path folder;

  @Test
  void whatIsMadeIsForTheOwnerAndWhatIsThereIsTakenFromOthers() throws Exception {
    assumeTrue(OwnerOnly.isPossible(), "no such permissions on this system");
    OwnerOnly.makeFolder(folder.resolve("a/b"));
    assertThat(permissions(folder.resolve("a/b"))).isEqualTo("rwx------");
    Path file = folder.resolve("file");
    OwnerOnly.makeFile(file);
    assertThat(permissions(file)).isEqualTo("rw-------");
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r--r--"));
    OwnerOnly.keep(file);
    assertThat(permissions(file)).isEqualTo("rw-------");
  }

  private static String permissions(Path path) throws IOException {
    return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
  }
}

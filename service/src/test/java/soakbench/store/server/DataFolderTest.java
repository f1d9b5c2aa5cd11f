package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.store.Database;

/** One program has a data folder, once. */
@Timeout(120)
class DataFolderTest {
  private static final Path LOCKS = Path.of("/proc/locks");

  @TempDir Path temp;

  @Test
  void aSecondClaimInTheSameProgramIsRefusedAndLeavesTheLock() throws Exception {
    Path folder = temp.resolve("data");
    try (DataFolder first = DataFolder.claim(folder)) {
      assertThatThrownBy(() -> DataFolder.claim(folder))
          .isInstanceOf(DataFolder.FolderInUseException.class)
          .hasMessageContaining("this one");
      assertThat(first.path()).isEqualTo(folder.toRealPath());
      assumeTrue(Files.exists(LOCKS), "no list of locks on this system");
      assertThat(isLocked(folder)).isTrue();
    }
    DataFolder.claim(folder).close();
  }

  private static boolean isLocked(Path folder) throws IOException {
    Object inode = Files.getAttribute(folder.resolve("soakbench.lock"), "unix:ino");
    return Files.readAllLines(LOCKS).stream().anyMatch(line -> line.contains(":" + inode + " "));
  }

  @Test
  void whoTookAFolderOverTakesItOnceMoreWhereWhatCameAfterwardsFailed() {
    Path folder = temp.resolve("data");
    try (Database database = Database.prepared(DatabaseSettings.embedded(folder))) {
      assertThat(database.takeOverAbandoned(step -> {})).isTrue();
      assertThat(database.takeOverAbandoned(step -> {})).isTrue();
      assertThat(database.mayWrite()).isTrue();
    }
  }
}

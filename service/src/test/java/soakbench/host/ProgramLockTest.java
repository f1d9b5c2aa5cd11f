package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProgramLockTest {
  private static final Path LOCKS = Path.of("/proc/locks");

  @TempDir Path folder;

  @Test
  void bearsTheNumberOfTheProcessThatHasIt() throws Exception {
    Path file = folder.resolve("lock");
    try (ProgramLock lock = ProgramLock.take(file)) {
      assertThat(lock).isNotNull();
      assertThat(file).hasContent(Long.toString(ProcessHandle.current().pid()));
    }
  }

  @Test
  void aSecondOneInThisProcessIsRefusedAndLeavesTheFirstItsLock() throws Exception {
    Path file = folder.resolve("lock");
    Path link = Files.createSymbolicLink(folder.resolve("link"), folder);
    try (ProgramLock first = ProgramLock.take(file)) {
      assertThat(first).isNotNull();
      for (Path again : new Path[] {file, link.resolve("lock")}) {
        assertThatThrownBy(() -> ProgramLock.take(again))
            .isInstanceOf(ProgramLock.HeldException.class)
            .hasMessage("process %d, this one", ProcessHandle.current().pid());
      }
      assumeTrue(Files.exists(LOCKS), "no list of locks on this system");
      assertThat(isLocked(file)).isTrue();
    }
    assertThat(isLocked(file)).isFalse();
    ProgramLock.take(file).close();
  }

  private static boolean isLocked(Path file) throws IOException {
    Object inode = Files.getAttribute(file, "unix:ino");
    return Files.readAllLines(LOCKS).stream().anyMatch(line -> line.contains(":" + inode + " "));
  }

  @Test
  void saysInWordsWhyAFolderCantBeWritten() {
    assertThat(ProgramLock.why(new AccessDeniedException("x"))).endsWith("may not write there");
    assertThat(ProgramLock.why(new FileAlreadyExistsException("x"))).isEqualTo("x is not a folder");
    assertThat(ProgramLock.why(new IOException("the disk is full"))).isEqualTo("the disk is full");
    assertThatThrownBy(() -> ProgramLock.take(folder.resolve("none/lock")))
        .isInstanceOf(IOException.class);
  }
}

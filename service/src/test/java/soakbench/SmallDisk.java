package soakbench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assumptions;

/** A file system of its own, in memory, for root: a small one can be filled for real. */
public record SmallDisk(Path at) implements AutoCloseable {
  private static final int BLOCK_BYTES = 4096;

  public static boolean isRoot() {
    return "root".equals(System.getProperty("user.name"));
  }

  /**
   * Mounts one on an empty folder. Where that is not allowed the test is skipped and says so.
   *
   * @param options of the mount: {@code size=1m}, {@code size=1m,ro}
   */
  public static SmallDisk mounted(Path at, String options) throws Exception {
    Assumptions.assumeTrue(isRoot(), "a file system of its own needs root");
    run("mount", "-t", "tmpfs", "-o", options, "tmpfs", at.toString());
    return new SmallDisk(at);
  }

  /** Leaves not a single block free; returns the file to delete. */
  public Path fill() throws IOException {
    Path ballast = at.resolve("ballast");
    byte[] block = new byte[BLOCK_BYTES];
    try (OutputStream out =
        Files.newOutputStream(ballast, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      while (true) {
        out.write(block);
      }
    } catch (IOException full) {
      assertThat(full).hasMessageContaining("No space left");
      return ballast;
    }
  }

  /** From now on it may only be read, or written again. */
  public void readOnly(boolean only) throws Exception {
    run("mount", "-o", "remount," + (only ? "ro" : "rw"), at.toString());
  }

  private static void run(String... command) throws Exception {
    Process process = new ProcessBuilder(command).inheritIO().start();
    assertThat(process.waitFor(30, TimeUnit.SECONDS)).isTrue();
    Assumptions.assumeTrue(process.exitValue() == 0, "no file system may be mounted here");
  }

  @Override
  public void close() throws Exception {
    run("umount", at.toString());
  }
}

package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * Makes sure that one program at a time has a spool. The lock is the operating system's: it goes
 * when the process does, however it ends.
 */
final class SpoolLock implements AutoCloseable {
  private final FileChannel channel;

  private SpoolLock(FileChannel channel) {
    this.channel = channel;
  }

  /**
   * Takes the lock, making the spool's folder where it is missing.
   *
   * @throws SpoolException if another process has it, or the folder can't be written
   */
  static SpoolLock take(Path spool) {
    try {
      SpoolAccess.makeFolder(spool.toAbsolutePath().getParent());
      FileChannel channel =
          FileChannel.open(
              spool.resolveSibling(spool.getFileName() + ".lock"),
              StandardOpenOption.CREATE,
              StandardOpenOption.READ,
              StandardOpenOption.WRITE);
      try {
        lock(channel, spool);
        return new SpoolLock(channel);
      } catch (IOException | RuntimeException e) {
        channel.close();
        throw e;
      }
    } catch (AccessDeniedException e) {
      throw unusable(spool, "user " + System.getProperty("user.name") + " may not write there", e);
    } catch (FileAlreadyExistsException e) {
      throw unusable(spool, e.getFile() + " is not a folder", e);
    } catch (FileSystemException e) {
      throw unusable(spool, e.getReason() == null ? e.toString() : e.getReason(), e);
    } catch (IOException e) {
      throw unusable(spool, e.getMessage(), e);
    }
  }

  private static void lock(FileChannel channel, Path spool) throws IOException {
    try {
      FileLock lock = channel.tryLock();
      if (lock == null) {
        throw inUse(spool, "process " + holder(channel), null);
      }
    } catch (OverlappingFileLockException e) {
      throw inUse(spool, "process " + ProcessHandle.current().pid() + ", this one", e);
    }
    byte[] pid = Long.toString(ProcessHandle.current().pid()).getBytes(StandardCharsets.US_ASCII);
    channel.truncate(0).write(ByteBuffer.wrap(pid), 0);
  }

  private static String holder(FileChannel channel) throws IOException {
    ByteBuffer pid = ByteBuffer.allocate(20);
    int length = channel.read(pid, 0);
    return length <= 0 ? "unknown" : new String(pid.array(), 0, length, StandardCharsets.US_ASCII);
  }

  private static SpoolException inUse(Path spool, String holder, Exception cause) {
    return new SpoolException(
        "the spool %s is in use by another copy of this program (%s); stop it, or name another file with --spool"
            .formatted(spool, holder),
        cause);
  }

  static SpoolException unusable(Path spool, String why, Exception cause) {
    return new SpoolException(
        "the spool %s can't be written (%s); mend that, or name another file with --spool"
            .formatted(spool, why),
        cause);
  }

  @Override
  public void close() {
    try {
      channel.close();
    } catch (IOException e) {
      throw new SpoolException("the spool's lock could not be given back: " + e.getMessage(), e);
    }
  }
}

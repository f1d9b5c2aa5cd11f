package soakbench.host;

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
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Makes sure that one program at a time has something, by a lock on a file beside it. The lock is
 * the operating system's: it goes when the process does, however it ends.
 */
public final class ProgramLock implements AutoCloseable {
  /**
   * The files that this process has locked. Asked before a file is opened a second time: closing
   * any channel to a file gives back all locks that the process holds on it (POSIX).
   */
  private static final Set<Path> OURS = ConcurrentHashMap.newKeySet();

  private final Path file;
  private final FileChannel channel;

  private ProgramLock(Path file, FileChannel channel) {
    this.file = file;
    this.channel = channel;
  }

  /** Somebody has it; the message is who, like "process 123". */
  public static final class HeldException extends IOException {
    private static final long serialVersionUID = 1L;

    private HeldException(String holder) {
      super(holder);
    }
  }

  /**
   * Takes the lock and writes this process's number into the file.
   *
   * @param file made where it is missing; its folder must be there
   * @throws HeldException if a process has it, this one included
   * @throws IOException if it can't be written; {@link #why} says why in words
   */
  public static ProgramLock take(Path file) throws IOException {
    Path real = file.toAbsolutePath().getParent().toRealPath().resolve(file.getFileName());
    if (!OURS.add(real)) {
      throw new HeldException("process " + ProcessHandle.current().pid() + ", this one");
    }
    try {
      return new ProgramLock(real, locked(real));
    } catch (IOException | RuntimeException e) {
      OURS.remove(real);
      throw e;
    }
  }

  private static FileChannel locked(Path file) throws IOException {
    FileChannel channel =
        FileChannel.open(
            file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
    try {
      lock(channel);
      return channel;
    } catch (IOException | RuntimeException e) {
      channel.close();
      throw e;
    }
  }

  private static void lock(FileChannel channel) throws IOException {
    try {
      FileLock lock = channel.tryLock();
      if (lock == null) {
        throw new HeldException("process " + holder(channel));
      }
    } catch (OverlappingFileLockException e) {
      throw new HeldException("process " + ProcessHandle.current().pid() + ", this one");
    }
    byte[] pid = Long.toString(ProcessHandle.current().pid()).getBytes(StandardCharsets.US_ASCII);
    channel.truncate(0).write(ByteBuffer.wrap(pid), 0);
  }

  private static String holder(FileChannel channel) throws IOException {
    ByteBuffer pid = ByteBuffer.allocate(20);
    int length = channel.read(pid, 0);
    return length <= 0 ? "unknown" : new String(pid.array(), 0, length, StandardCharsets.US_ASCII);
  }

  /** Why a file or folder can't be written, in words that fit in brackets. */
  public static String why(IOException e) {
    if (e instanceof AccessDeniedException) {
      return "user " + System.getProperty("user.name") + " may not write there";
    }
    if (e instanceof FileAlreadyExistsException there) {
      return there.getFile() + " is not a folder";
    }
    if (e instanceof FileSystemException fault) {
      return fault.getReason() == null ? e.toString() : fault.getReason();
    }
    return e.getMessage();
  }

  @Override
  public void close() throws IOException {
    if (channel.isOpen()) {
      try {
        channel.close();
      } finally {
        OURS.remove(file);
      }
    }
  }
}

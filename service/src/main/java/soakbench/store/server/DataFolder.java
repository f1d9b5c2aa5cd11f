package soakbench.store.server;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.live.StoreException;

/**
 * The folder in which our own server keeps everything, held by one program at a time. The lock is
 * the operating system's: it goes when the process does, however it ends.
 */
public final class DataFolder implements AutoCloseable {
  /** Another program has the folder. */
  public static final class FolderInUseException extends StoreException {
    private static final long serialVersionUID = 1L;

    private FolderInUseException(String message, Throwable cause) {
      super(message, cause, false);
    }
  }

  /**
   * The folders that this process has. Asked before the lock file is opened a second time: closing
   * any channel to a file gives back all locks that the process holds on it (POSIX).
   */
  private static final Set<Path> OURS = ConcurrentHashMap.newKeySet();

  private final Path folder;
  private final FileChannel lockFile;

  private DataFolder(Path folder, FileChannel lockFile) {
    this.folder = folder;
    this.lockFile = lockFile;
  }

  /**
   * Takes the folder for this process, making it where it is missing (readable by its owner only).
   *
   * @throws StoreException if another process has it, or it can't be written
   */
  static DataFolder claim(Path folder) {
    try {
      Files.createDirectories(folder, ownerOnly("rwx------"));
      Path real = folder.toRealPath();
      if (!OURS.add(real)) {
        throw inUse(real, "process " + ProcessHandle.current().pid() + ", this one", null);
      }
      try {
        return locked(real);
      } catch (IOException | RuntimeException e) {
        OURS.remove(real);
        throw e;
      }
    } catch (AccessDeniedException e) {
      throw unusable(folder, "user " + System.getProperty("user.name") + " may not write there", e);
    } catch (FileAlreadyExistsException e) {
      throw unusable(folder, e.getFile() + " is not a folder", e);
    } catch (IOException e) {
      throw unusable(folder, e.toString(), e);
    }
  }

  private static DataFolder locked(Path real) throws IOException {
    FileChannel lockFile = openLockFile(real.resolve("soakbench.lock"));
    try {
      lock(lockFile, real);
      return new DataFolder(real, lockFile);
    } catch (IOException | RuntimeException e) {
      lockFile.close();
      throw e;
    }
  }

  private static FileChannel openLockFile(Path file) throws IOException {
    return FileChannel.open(
        file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
  }

  private static void lock(FileChannel lockFile, Path folder) throws IOException {
    try {
      FileLock lock = lockFile.tryLock();
      if (lock == null) {
        throw inUse(folder, "process " + holder(lockFile), null);
      }
    } catch (OverlappingFileLockException e) {
      throw inUse(folder, "process " + ProcessHandle.current().pid() + ", this one", e);
    }
    byte[] pid = Long.toString(ProcessHandle.current().pid()).getBytes(StandardCharsets.US_ASCII);
    lockFile.truncate(0).write(ByteBuffer.wrap(pid), 0);
  }

  private static String holder(FileChannel lockFile) throws IOException {
    ByteBuffer pid = ByteBuffer.allocate(20);
    int length = lockFile.read(pid, 0);
    return length <= 0 ? "unknown" : new String(pid.array(), 0, length, StandardCharsets.US_ASCII);
  }

  private static StoreException inUse(Path folder, String holder, Exception cause) {
    return new FolderInUseException(
        "the data folder %s is in use by another copy of Soakbench (%s); %s"
            .formatted(folder, holder, "stop it or choose another with --data"),
        cause);
  }

  private static StoreException unusable(Path folder, String why, Exception cause) {
    return new StoreException(
        "the data folder %s can't be used (%s); choose another with --data".formatted(folder, why),
        cause,
        false);
  }

  /** The server's own data. */
  Path cluster() {
    return folder.resolve("postgres");
  }

  Path serverLog() {
    return folder.resolve("postgres.log");
  }

  Path password() {
    return folder.resolve("password");
  }

  Path port() {
    return folder.resolve("port");
  }

  /** There only while the first start is not finished. */
  Path unfinished() {
    return folder.resolve("first-start-unfinished");
  }

  Path programs() {
    return folder.resolve("programs/unpacked");
  }

  Path path() {
    return folder;
  }

  /** File attributes for owner only, or none where the file system knows no such thing. */
  static FileAttribute<?>[] ownerOnly(String permissions) {
    boolean posix = Path.of("").getFileSystem().supportedFileAttributeViews().contains("posix");
    return posix
        ? new FileAttribute<?>[] {
          PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions))
        }
        : new FileAttribute<?>[0];
  }

  @Override
  public void close() throws IOException {
    if (lockFile.isOpen()) {
      try {
        lockFile.close();
      } finally {
        OURS.remove(folder);
      }
    }
  }
}

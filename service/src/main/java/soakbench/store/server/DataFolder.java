package soakbench.store.server;

import java.io.IOException;
import java.nio.file.Path;
import soakbench.host.OwnerOnly;
import soakbench.host.ProgramLock;
import soakbench.live.StoreException;

/** The folder in which our own server keeps everything, held by one program at a time. */
public final class DataFolder implements AutoCloseable {
  /** Another program has the folder. */
  public static final class FolderInUseException extends StoreException {
    private static final long serialVersionUID = 1L;

    private FolderInUseException(String message, Throwable cause) {
      super(message, cause, false);
    }
  }

  private final Path folder;
  private final ProgramLock lock;

  private DataFolder(Path folder, ProgramLock lock) {
    this.folder = folder;
    this.lock = lock;
  }

  /**
   * Takes the folder for this process, making it where it is missing (readable by its owner only).
   *
   * @throws StoreException if another process has it, or it can't be written
   */
  static DataFolder claim(Path folder) {
    Path real = folder;
    try {
      OwnerOnly.makeFolder(folder);
      real = folder.toRealPath();
      return new DataFolder(real, ProgramLock.take(real.resolve("soakbench.lock")));
    } catch (ProgramLock.HeldException e) {
      throw inUse(real, e.getMessage(), e);
    } catch (IOException e) {
      throw unusable(folder, ProgramLock.why(e), e);
    }
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

  @Override
  public void close() throws IOException {
    lock.close();
  }
}

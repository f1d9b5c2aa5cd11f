package soakbench.store.backup;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import soakbench.host.OwnerOnly;
import soakbench.live.StoreException;

/**
 * A file that has its name only once it is whole and on the disk; until then it is called {@code
 * NAME.unfinished}, and one that a killed program left is written over. Nobody but its owner may
 * read it.
 */
final class WholeFile implements AutoCloseable {
  private final Path file;
  private final Path unfinished;
  private final FileChannel channel;
  private boolean finished;

  private WholeFile(Path file, Path unfinished, FileChannel channel) {
    this.file = file;
    this.unfinished = unfinished;
    this.channel = channel;
  }

  /**
   * @throws StoreException if another program is just writing it
   */
  static WholeFile begin(Path named) throws IOException {
    Path file = named.toAbsolutePath();
    Path unfinished = file.resolveSibling(file.getFileName() + ".unfinished");
    make(unfinished);
    FileChannel channel =
        FileChannel.open(unfinished, StandardOpenOption.WRITE, LinkOption.NOFOLLOW_LINKS);
    try {
      if (channel.tryLock() == null) {
        throw busy(unfinished);
      }
      channel.truncate(0);
      return new WholeFile(file, unfinished, channel);
    } catch (OverlappingFileLockException e) {
      channel.close();
      throw busy(unfinished);
    } catch (IOException | RuntimeException e) {
      channel.close();
      throw e;
    }
  }

  private static void make(Path unfinished) throws IOException {
    try {
      OwnerOnly.makeFile(unfinished);
    } catch (FileAlreadyExistsException e) {
      if (OwnerOnly.isPossible()) {
        OwnerOnly.keep(unfinished);
      }
    }
  }

  private static StoreException busy(Path unfinished) {
    return new StoreException(
        "%s is just being written by another program; wait for it, or choose another name"
            .formatted(unfinished),
        null,
        false);
  }

  /** Closing it leaves the file open: it is not finished by that. */
  OutputStream out() {
    return new FilterOutputStream(Channels.newOutputStream(channel)) {
      @Override
      public void write(byte[] block, int offset, int length) throws IOException {
        out.write(block, offset, length);
      }

      @Override
      public void close() throws IOException {
        flush();
      }
    };
  }

  /** Puts it on the disk and gives it its name, in place of a file that had it. */
  void finish() throws IOException {
    channel.force(true);
    try {
      Files.move(unfinished, file, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(unfinished, file, StandardCopyOption.REPLACE_EXISTING);
    }
    finished = true;
    if (OwnerOnly.isPossible()) {
      try (FileChannel folder = FileChannel.open(file.getParent())) {
        folder.force(true);
      }
    }
  }

  /** What is not finished goes. */
  @Override
  public void close() throws IOException {
    try {
      if (!finished) {
        Files.deleteIfExists(unfinished);
      }
    } finally {
      channel.close();
    }
  }
}

package soakbench.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.stream.Stream;

/** Copies a data folder whose server has stopped. */
final class FolderCopy {
  private FolderCopy() {}

  /**
   * The copy, with owners, times and rights.
   *
   * @throws IOException if something of it is there, or can't be copied
   */
  static Path of(Path from, Path to) throws IOException {
    try (Stream<Path> files = Files.walk(from)) {
      for (Path file : (Iterable<Path>) files::iterator) {
        Files.copy(file, to.resolve(from.relativize(file)), StandardCopyOption.COPY_ATTRIBUTES);
      }
    }
    return to;
  }
}

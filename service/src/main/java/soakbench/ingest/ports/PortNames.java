package soakbench.ingest.ports;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import soakbench.ingest.rackfile.SlotBinding;

/** Device files by their names. */
final class PortNames {
  private PortNames() {}

  /** The file that a link leads to; the path itself where it leads nowhere. */
  static String real(String path) {
    try {
      return Path.of(path).toRealPath().toString();
    } catch (IOException e) {
      return path;
    }
  }

  /** The paths that fit a pattern, sorted; the folders of links to ports may be named in it. */
  static List<String> fitting(SlotBinding pattern) {
    Path folder = Path.of(pattern.port()).getParent();
    if (folder == null || !Files.isDirectory(folder)) {
      return List.of();
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files.map(Path::toString).filter(pattern::fitsName).sorted().toList();
    } catch (IOException | UncheckedIOException | DirectoryIteratorException e) {
      // The folder went away in this moment: nothing fits then.
      return List.of();
    }
  }
}

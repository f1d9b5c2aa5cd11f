package soakbench.serial;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Finds another program that has a port open, from /proc, where Linux lists processes. Programs of
 * other users can't be seen; where the system lists nothing, nobody is found.
 */
public final class PortHolders {
  private static final Path PROCESSES = Path.of("/proc");

  private PortHolders() {}

  /** The program that has this device file open, like "cat (process 123)". */
  public static Optional<String> of(String port) {
    if (!Files.isDirectory(PROCESSES)) {
      return Optional.empty();
    }
    try (Stream<Path> all = Files.list(PROCESSES)) {
      Path device = Path.of(port).toRealPath();
      String own = ProcessHandle.current().pid() + "";
      return all.filter(process -> isOther(process, own))
          .filter(process -> holds(process, device))
          .findFirst()
          .map(PortHolders::name);
    } catch (IOException | UncheckedIOException e) {
      // The port or the list went away in this moment: opening the port will tell.
      return Optional.empty();
    }
  }

  private static boolean isOther(Path process, String own) {
    String id = process.getFileName().toString();
    return Character.isDigit(id.charAt(0)) && !id.equals(own);
  }

  private static boolean holds(Path process, Path device) {
    try (Stream<Path> open = Files.list(process.resolve("fd"))) {
      return open.anyMatch(file -> leadsTo(file, device));
    } catch (IOException | UncheckedIOException e) {
      // Another user's, or ended meanwhile.
      return false;
    }
  }

  private static boolean leadsTo(Path file, Path device) {
    try {
      return Files.readSymbolicLink(file).equals(device);
    } catch (IOException e) {
      // Closed meanwhile.
      return false;
    }
  }

  private static String name(Path process) {
    String id = process.getFileName().toString();
    try {
      return Files.readString(process.resolve("comm")).strip() + " (process " + id + ")";
    } catch (IOException e) {
      // Ended meanwhile; it had the port a moment ago.
      return "process " + id;
    }
  }
}

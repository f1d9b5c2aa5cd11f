package soakbench.serial;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * The serial ports of this computer, cheap to ask again and again: the library, which looks into
 * the devices themselves, is asked only after the system's own list has changed.
 */
public final class SystemPorts implements PortFinder {
  /** Linux keeps a link here for each terminal; it names the socket, and comes and goes with it. */
  private static final Path TERMINALS = Path.of("/sys/class/tty");

  private List<String> seen = List.of();
  private List<PortInfo> ports = List.of();

  /**
   * The ports by path.
   *
   * @throws SerialUnavailableException if this computer lets no serial port be used
   */
  @Override
  public synchronized List<PortInfo> find() {
    List<String> now = terminals();
    if (now.isEmpty() || !now.equals(seen)) {
      ports = SerialPorts.list();
      seen = now;
    }
    return ports;
  }

  /** A line for each terminal and where it is plugged in; empty where the system has no list. */
  private static List<String> terminals() {
    if (!Files.isDirectory(TERMINALS)) {
      return List.of();
    }
    try (Stream<Path> links = Files.list(TERMINALS)) {
      return links.map(SystemPorts::placed).sorted().toList();
    } catch (IOException e) {
      throw new UncheckedIOException("the list " + TERMINALS + " can't be read", e);
    }
  }

  private static String placed(Path link) {
    try {
      return link.getFileName() + " " + Files.readSymbolicLink(link);
    } catch (IOException e) {
      // Unplugged in this moment, or no link: its name is enough to see a change.
      return link.getFileName().toString();
    }
  }
}

package soakbench.ingest;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/**
 * Which tracker is read at which port.
 *
 * @param rack the bench's name, or empty
 * @param slots its positions, in the order of the file; names and ports are each different
 */
public record RackFile(String rack, List<Slot> slots) {
  /** Bits per second where a slot sets none. */
  public static final int DEFAULT_BAUD = 115200;

  public RackFile {
    slots = List.copyOf(slots);
  }

  /**
   * One position.
   *
   * @param name the slot's name
   * @param port device file; best one under /dev/serial/by-path, which names the socket
   * @param baud bits per second
   * @param lines what is set about its lines
   * @param reset whether opening the port may reset the tracker
   */
  public record Slot(String name, String port, int baud, LineSettings lines, boolean reset) {

    /** A slot with the usual settings. */
    public Slot(String name, String port) {
      this(name, port, DEFAULT_BAUD, LineSettings.NONE, false);
    }
  }

  /**
   * Reads a rack file (YAML).
   *
   * @throws RackFileException if anything in it is wrong; it names all problems at once
   * @throws IOException if the file can't be read
   */
  public static RackFile read(Path file) throws IOException {
    return new RackFileParser(file).parse();
  }
}

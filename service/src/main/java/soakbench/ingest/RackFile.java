package soakbench.ingest;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;

/**
 * Which tracker is read at which port.
 *
 * @param rack the bench's name, or empty
 * @param slots its positions, in the order of the file; names and bindings are each different
 */
public record RackFile(String rack, List<Slot> slots) {
  public RackFile {
    slots = List.copyOf(slots);
  }

  /**
   * One position.
   *
   * @param name the slot's name
   * @param binding which port
   * @param settings how the port is used
   * @param tracker whose the lines without an id are, or null; where the binding names no port,
   *     whose lines say that this is the slot
   * @param columns CSV header of a tracker that prints rows without one, or null
   */
  public record Slot(
      String name, SlotBinding binding, PortSettings settings, String tracker, String columns) {

    /** A slot with the usual settings. */
    public Slot(String name, String port) {
      this(name, SlotBinding.port(port), PortSettings.USUAL, null, null);
    }

    /** A slot at a device file; nothing is sent. */
    public Slot(String name, String port, int baud, String tracker, String columns, boolean reset) {
      this(
          name,
          SlotBinding.port(port),
          new PortSettings(baud, reset, AskSettings.NONE),
          tracker,
          columns);
    }

    /** Whether it is wherever its tracker's id is heard. */
    public boolean isSearched() {
      return binding.isByTracker() && tracker != null;
    }

    /** All that says how its lines are got and read. */
    List<Object> reading() {
      return Arrays.asList(settings, columns);
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

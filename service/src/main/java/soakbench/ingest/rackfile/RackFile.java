package soakbench.ingest.rackfile;

import java.util.Arrays;
import java.util.List;

/**
 * Which tracker is read at which port.
 *
 * @param rack the bench's name, or empty
 * @param slots its positions, in the order of the file; names and bindings are each different
 * @param listen where lines are taken from the network
 * @param stamps how far lines' own timestamps are trusted
 */
public record RackFile(
    String rack, List<Slot> slots, ListenSettings listen, StampTolerance stamps) {
  public RackFile {
    slots = List.copyOf(slots);
  }

  /** A rack that takes nothing from the network. */
  public RackFile(String rack, List<Slot> slots) {
    this(rack, slots, ListenSettings.NONE, StampTolerance.USUAL);
  }

  /** The same rack with another tolerance for lines' own timestamps. */
  public RackFile with(StampTolerance other) {
    return new RackFile(rack, slots, listen, other);
  }

  /** Whether a slot says that this tracker belongs here. */
  public boolean names(String tracker) {
    return slots.stream().anyMatch(slot -> tracker.equals(slot.tracker()));
  }

  /**
   * One position.
   *
   * @param name the slot's name
   * @param binding which port
   * @param settings how the port is used
   * @param lines what is set about its lines; where the binding names no port, its tracker is the
   *     one whose lines say that this is the slot
   */
  public record Slot(String name, SlotBinding binding, PortSettings settings, LineSettings lines) {

    /** A slot with the usual settings. */
    public Slot(String name, String port) {
      this(name, SlotBinding.port(port), PortSettings.USUAL, LineSettings.NONE);
    }

    /** Whose the lines without an id are, or null. */
    public String tracker() {
      return lines.tracker();
    }

    /** Whether it is wherever its tracker's id is heard. */
    public boolean isSearched() {
      return binding.isByTracker() && tracker() != null;
    }

    /** All that says how its lines are got and read. */
    List<Object> reading() {
      return Arrays.asList(settings, lines.columns(), lines.pattern());
    }
  }
}

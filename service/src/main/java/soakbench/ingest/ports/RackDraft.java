package soakbench.ingest.ports;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.util.List;
import java.util.function.Function;

/** A rack file made of what was seen and heard: one slot for each port that talks. */
public final class RackDraft {
  private final List<PortReport> ports;
  private final StringBuilder yaml = new StringBuilder("rack: A\nslots:\n");
  private int slots;

  public RackDraft(List<PortReport> ports) {
    this.ports = List.copyOf(ports);
  }

  /** How many ports talk, so how many slots there will be. */
  public long size() {
    return ports.stream().filter(RackDraft::talks).count();
  }

  private static boolean talks(PortReport port) {
    return port.state() == PortReport.State.TALKS;
  }

  /**
   * The file's text (YAML). Slots are bound by their USB socket where it is known, else by the
   * device's number, else by the path; what was heard stands beside each. A port that could be used
   * but did not talk stands there as a comment.
   */
  public String yaml() {
    ports.stream().filter(RackDraft::talks).forEach(this::slot);
    ports.stream()
        .filter(port -> !talks(port) && port.canBeRead())
        .forEach(port -> yaml.append("  # silent: {").append(binding(port)).append("}\n"));
    return yaml.toString();
  }

  private void slot(PortReport port) {
    slots++;
    String name = "A" + slots;
    yaml.append("  ").append(name).append(": {").append(binding(port));
    yaml.append(", baud: ").append(port.talk().baud());
    if (port.lacksId()) {
      yaml.append(", tracker: ").append(name);
    }
    yaml.append("}  # ").append(note(port)).append('\n');
  }

  private static String note(PortReport port) {
    String whose =
        port.lacksId()
            ? "its lines carry no id: write its own instead of the slot's"
            : String.join(", ", port.talk().trackers());
    return whose + "; was " + port.device().path();
  }

  private String binding(PortReport port) {
    if (isUnique(port, PortReport.Device::usb)) {
      return "usb: " + quoted(port.device().usb());
    }
    return isUnique(port, PortReport.Device::serialNumber)
        ? "serial_number: " + quoted(port.device().serialNumber())
        : "port: " + quoted(port.device().path());
  }

  private boolean isUnique(PortReport port, Function<PortReport.Device, String> key) {
    String value = key.apply(port.device());
    return !value.isEmpty()
        && ports.stream().filter(other -> key.apply(other.device()).equals(value)).count() == 1;
  }

  /** YAML takes a JSON string as it is. */
  private static String quoted(String text) {
    return "\"" + new String(JsonStringEncoder.getInstance().quoteAsString(text)) + "\"";
  }
}

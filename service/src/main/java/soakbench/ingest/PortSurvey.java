package soakbench.ingest;

import java.util.List;
import soakbench.serial.PortInfo;
import soakbench.serial.SerialPorts;

/** Lists the serial ports of this computer for people who set up a rack. */
public final class PortSurvey {
  private PortSurvey() {}

  /**
   * One port.
   *
   * @param path what to write into a rack file
   * @param what what the device calls itself, with its vendor and product id where it has them
   * @param location the socket it's plugged into, or empty
   * @param serialNumber the device's own number, or empty
   * @param usable whether this user may use it
   * @param advice what to do if not, in a sentence; else empty
   */
  public record Row(
      String path,
      String what,
      String location,
      String serialNumber,
      boolean usable,
      String advice) {}

  /** The ports by path. Pseudo-terminals are not among them. */
  public static List<Row> list() {
    return SerialPorts.list().stream().map(PortSurvey::row).toList();
  }

  static Row row(PortInfo port) {
    String advice = SerialPorts.obstacle(port.path()).orElse("");
    return new Row(
        port.path(), what(port), port.location(), port.serialNumber(), advice.isEmpty(), advice);
  }

  private static String what(PortInfo port) {
    String ids =
        port.vendorId() < 0 ? "" : "%04x:%04x".formatted(port.vendorId(), port.productId());
    return (port.description() + " " + ids).strip();
  }
}

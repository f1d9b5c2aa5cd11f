package soakbench.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Finds the serial ports of this computer. */
public final class SerialPorts {
  private SerialPorts() {}

  /**
   * The ports with a device behind them, by path. Pseudo-terminals are not among them.
   *
   * @throws SerialUnavailableException if this computer lets no serial port be used
   */
  public static List<PortInfo> list() {
    return Stream.of(found())
        .map(SerialPorts::info)
        .sorted(Comparator.comparing(PortInfo::path))
        .toList();
  }

  /** Why this user can't use the port, in a sentence; empty where it can be used. */
  public static Optional<String> obstacle(String path) {
    return PortProblem.before(Path.of(path));
  }

  private static SerialPort[] found() {
    try {
      return SerialPort.getCommPorts();
    } catch (LinkageError e) {
      throw new SerialUnavailableException(e);
    }
  }

  private static PortInfo info(SerialPort port) {
    return new PortInfo(
        port.getSystemPortPath(),
        known(port.getPortDescription()),
        port.getVendorID() < 0 ? "" : known(port.getPortLocation()),
        known(port.getSerialNumber()),
        port.getVendorID(),
        port.getProductID());
  }

  private static String known(String text) {
    return text == null || text.equals("Unknown") ? "" : text.strip();
  }
}

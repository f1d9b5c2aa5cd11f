package soakbench.ingest;

import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentSkipListMap;
import soakbench.demo.PseudoTerminal;
import soakbench.serial.PortFinder;
import soakbench.serial.PortInfo;

/**
 * USB sockets for pseudo-terminals. This list is the only thing in these tests that is not real: a
 * pseudo-terminal has neither a socket nor a number, so a test says which it has.
 */
public final class Sockets implements PortFinder {
  private final Map<String, PortInfo> byPath = new ConcurrentSkipListMap<>();

  public void plug(PseudoTerminal device, String usb, String serialNumber) {
    byPath.put(
        device.path(), new PortInfo(device.path(), "adapter", usb, serialNumber, 0x1234, 0xabcd));
  }

  /** The device goes away, in the middle of what it says. */
  void unplug(PseudoTerminal device) {
    byPath.remove(device.path());
    device.close();
  }

  @Override
  public List<PortInfo> find() {
    return List.copyOf(byPath.values());
  }
}

package soakbench.ingest.rackfile;

import java.nio.file.FileSystems;
import java.nio.file.Path;
import java.nio.file.PathMatcher;
import soakbench.serial.PortInfo;

/**
 * Which port a slot is read at. Where several are set, all must fit; where none is, the slot is
 * wherever its tracker's id is heard.
 *
 * @param port device file, its name perhaps with {@code *} for any letters; or empty
 * @param usb the USB socket, as {@code ports} shows it; or empty
 * @param serialNumber the adapter's own number; or empty
 * @param address where a tracker on the network sends from, then nothing else is set; or empty
 */
public record SlotBinding(String port, String usb, String serialNumber, String address) {

  /** Bound to a port. */
  public SlotBinding(String port, String usb, String serialNumber) {
    this(port, usb, serialNumber, "");
  }

  /** Bound to a device file, or to a pattern of its name. */
  public static SlotBinding port(String port) {
    return new SlotBinding(port, "", "");
  }

  /** Whether the slot is wherever its tracker's id is heard. */
  public boolean isByTracker() {
    return port.isEmpty() && usb.isEmpty() && serialNumber.isEmpty() && address.isEmpty();
  }

  /** Whether it is somebody on the network. */
  public boolean isAddress() {
    return !address.isEmpty();
  }

  /** Whether it names one device file, whatever is plugged in there. */
  public boolean isPath() {
    return !isPattern() && !port.isEmpty() && usb.isEmpty() && serialNumber.isEmpty();
  }

  /** Whether many ports may fit. */
  public boolean isPattern() {
    return port.contains("*");
  }

  /** Whether it names a device, by its socket or its number. */
  public boolean isByDevice() {
    return !usb.isEmpty() || !serialNumber.isEmpty();
  }

  public boolean fits(PortInfo info) {
    return (usb.isEmpty() || usb.equals(info.location()))
        && (serialNumber.isEmpty() || serialNumber.equals(info.serialNumber()))
        && (port.isEmpty() || fitsName(info.path()));
  }

  public boolean fitsName(String path) {
    return isPattern() ? matcher().matches(Path.of(path)) : port.equals(path);
  }

  /** Only the star means anything; the other signs of a glob stand for themselves. */
  private PathMatcher matcher() {
    String glob = port.replaceAll("[\\\\?\\[\\]{}]", "\\\\$0");
    return FileSystems.getDefault().getPathMatcher("glob:" + glob);
  }

  /** In words, for messages. */
  @Override
  public String toString() {
    String words = port.isEmpty() ? "" : "port " + port;
    words += usb.isEmpty() ? "" : " socket " + usb;
    words += serialNumber.isEmpty() ? "" : " number " + serialNumber;
    words += address.isEmpty() ? "" : " address " + address;
    return words.strip();
  }
}

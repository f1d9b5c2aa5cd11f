package soakbench.serial;

/**
 * Where a port is now.
 *
 * @param path its device file, or empty where it's nowhere
 * @param reason why it's nowhere and what to do, in a sentence; else empty
 */
public record PortPlace(String path, String reason) {

  public static PortPlace at(String path) {
    return new PortPlace(path, "");
  }

  public static PortPlace nowhere(String reason) {
    return new PortPlace("", reason);
  }
}

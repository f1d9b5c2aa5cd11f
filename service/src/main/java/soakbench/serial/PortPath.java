package soakbench.serial;

/**
 * The device file that a port has now.
 *
 * @param path its device file, or empty where it has none
 * @param reason why there is none and what to do, in a sentence; else empty
 */
public record PortPath(String path, String reason) {

  public static PortPath at(String path) {
    return new PortPath(path, "");
  }

  public static PortPath missing(String reason) {
    return new PortPath("", reason);
  }
}

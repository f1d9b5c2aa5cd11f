package soakbench.cli.push;

import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import soakbench.cli.options.CommandException;

/**
 * Where tables are posted to.
 *
 * @param address without what is added for a table
 * @param token that goes with it as {@code Authorization: Bearer}; null for none
 * @param redirectTaken whether a redirect says that it has the table
 */
record PushTarget(URI address, String token, boolean redirectTaken) {

  /**
   * Reads it from the command line.
   *
   * @param plain whether it may go over http to another computer
   * @throws CommandException if it is no address, or would send tables where anybody can read them
   */
  static PushTarget of(String text, String token, boolean plain, boolean redirectTaken) {
    URI address = address("--to", text);
    if (address.getScheme().equals("http") && !plain && !isThisComputer(address)) {
      throw new CommandException(
          "--to "
              + shown(address)
              + " would send the tables where anybody on the way can read them; give an https"
              + " address, or --plain if that is meant");
    }
    return new PushTarget(address, token, redirectTaken);
  }

  /** An address of http or https. */
  static URI address(String option, String text) {
    try {
      URI uri = URI.create(text);
      boolean http = "http".equals(uri.getScheme()) || "https".equals(uri.getScheme());
      if (http && uri.getHost() != null && uri.getFragment() == null) {
        return uri;
      }
    } catch (IllegalArgumentException e) {
      throw new CommandException(option + " is no address; it looks like https://HOST/PATH", e);
    }
    throw new CommandException(option + " is no address; it looks like https://HOST/PATH");
  }

  private static boolean isThisComputer(URI address) {
    try {
      return InetAddress.getByName(address.getHost()).isLoopbackAddress();
    } catch (UnknownHostException e) {
      return false;
    }
  }

  /** Where this table goes. */
  URI of(String table) {
    String sign = address.getRawQuery() == null ? "?" : "&";
    return URI.create(address + sign + "table=" + table);
  }

  /** As it may be shown: a query may hold a secret. */
  String shown() {
    return shown(address);
  }

  private static String shown(URI address) {
    String port = address.getPort() < 0 ? "" : ":" + address.getPort();
    return address.getScheme() + "://" + address.getHost() + port + address.getPath();
  }
}

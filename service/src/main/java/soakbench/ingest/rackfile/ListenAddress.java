package soakbench.ingest.rackfile;

import java.io.IOException;
import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.net.UnknownHostException;
import java.util.Collections;
import java.util.Comparator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where to listen, as it is written in a rack file.
 *
 * @param host an address or a name of this computer, the name of a network interface, or {@code *}
 *     for all of its addresses
 * @param port 0 for any free one
 */
public record ListenAddress(String host, int port) {
  private static final Pattern FORM =
      Pattern.compile("(\\[[0-9a-fA-F:.%\\w]+]|[^:\\s]+):([0-9]{1,5})");
  private static final String EVERYWHERE = "*";

  /**
   * Reads {@code HOST:PORT}.
   *
   * @throws IllegalArgumentException if it is none; the message says what one looks like
   */
  static ListenAddress of(String text) {
    Matcher form = FORM.matcher(text);
    int port = form.matches() ? Integer.parseInt(form.group(2)) : -1;
    if (port < 0 || port > 65_535) {
      throw new IllegalArgumentException(
          "\""
              + text
              + "\" is no address to listen at; one looks like 127.0.0.1:9750 or wlan0:9750");
    }
    String host = form.group(1);
    boolean bracketed = host.startsWith("[");
    return new ListenAddress(bracketed ? host.substring(1, host.length() - 1) : host, port);
  }

  /**
   * The address as it is now: an interface may get another one.
   *
   * @throws IOException if this computer has no such address, in a sentence
   */
  public InetSocketAddress resolved() throws IOException {
    if (host.equals(EVERYWHERE)) {
      return new InetSocketAddress(port);
    }
    NetworkInterface named = NetworkInterface.getByName(host);
    if (named != null) {
      return new InetSocketAddress(first(named), port);
    }
    try {
      return new InetSocketAddress(InetAddress.getByName(host), port);
    } catch (UnknownHostException e) {
      throw new IOException(
          this + ": there is no address and no network interface \"" + host + "\" here", e);
    }
  }

  private InetAddress first(NetworkInterface named) throws IOException {
    return Collections.list(named.getInetAddresses()).stream()
        .min(Comparator.comparing(address -> !(address instanceof Inet4Address)))
        .orElseThrow(() -> new IOException(this + ": interface " + host + " has no address now"));
  }

  @Override
  public String toString() {
    return (host.contains(":") ? "[" + host + "]" : host) + ":" + port;
  }
}

package soakbench.cli.options;

import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** The addresses under which others on the local network find this computer. */
final class LanAddresses {
  private LanAddresses() {}

  /**
   * IPv4 addresses of real interfaces that are up, those of private networks first; a phone reads
   * them more easily than IPv6.
   */
  static List<String> list() {
    List<InetAddress> found = new ArrayList<>();
    try {
      for (NetworkInterface each : Collections.list(NetworkInterface.getNetworkInterfaces())) {
        if (each.isUp() && !each.isLoopback() && !each.isPointToPoint() && !each.isVirtual()) {
          found.addAll(Collections.list(each.getInetAddresses()));
        }
      }
    } catch (SocketException e) {
      throw new CommandException(
          "the addresses of this computer can't be listed: " + e.getMessage(), e);
    }
    return found.stream()
        .filter(address -> address instanceof Inet4Address && !address.isLinkLocalAddress())
        .sorted((a, b) -> Boolean.compare(b.isSiteLocalAddress(), a.isSiteLocalAddress()))
        .map(InetAddress::getHostAddress)
        .toList();
  }
}

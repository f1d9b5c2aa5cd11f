package soakbench.ingest.net;

import java.net.BindException;
import java.net.SocketAddress;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.rackfile.ListenAddress;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;

/**
 * Whether a socket listens, and if not, why.
 *
 * @param address where it listens, or should
 * @param reason why it doesn't, in a sentence; else empty
 */
record SocketState(String address, boolean open, String reason) {

  static SocketState notTried(ListenAddress address) {
    return new SocketState(address.toString(), false, "not tried yet");
  }

  static SocketState open(SocketAddress address) {
    return new SocketState(address.toString().replaceFirst("^[^/]*/", ""), true, "");
  }

  static SocketState closed(ListenAddress address, SourceKind kind, Exception why) {
    String text =
        why instanceof BindException
            ? "another program listens there, or this computer does not have that address"
            : why.getMessage();
    return new SocketState(
        address.toString(), false, kind + " " + address + " can't be listened at: " + text);
  }

  SourceStatus status(SourceKind kind, NetSenders senders, String sent, ArrivalClock clock) {
    return new SourceStatus(
        "",
        new SourceStatus.Way(kind, address),
        open,
        open ? senders.notice(clock.runningUs()) : reason,
        senders.newest(clock.correctionUs()),
        sent,
        senders.heard(clock.runningUs(), clock.correctionUs()));
  }
}

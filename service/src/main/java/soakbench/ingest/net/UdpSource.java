package soakbench.ingest.net;

import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.net.SocketTimeoutException;
import java.util.Arrays;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.rackfile.ListenAddress;
import soakbench.ingest.source.SourceKind;

/**
 * Takes lines as datagrams, one or more in each; the last line of one needs no line end, and no
 * line goes on in another. The sender is identified by the lines, not by the port that they came
 * from. Nothing is ever sent.
 */
final class UdpSource extends SocketSource {
  private static final int LARGEST = 65_535;
  private static final int RECEIVE_BUFFER = 4 << 20;
  private static final int POLL_MS = 50;
  private static final long STANDSTILL_US = 100_000;
  private static final long CATCH_UP_US = 200_000;
  private static final byte[] LINE_END = {'\n'};

  UdpSource(ListenAddress address, NetSenders senders, ArrivalClock clock) {
    super(SourceKind.UDP, address, senders, clock);
  }

  @Override
  void listen(ListenAddress at) throws IOException {
    try (DatagramSocket socket = new DatagramSocket(null)) {
      socket.setReceiveBufferSize(RECEIVE_BUFFER);
      socket.setSoTimeout(POLL_MS);
      socket.bind(at.resolved());
      listens(socket.getLocalSocketAddress());
      receive(socket);
    }
  }

  private void receive(DatagramSocket socket) throws IOException {
    DatagramPacket packet = new DatagramPacket(new byte[LARGEST], LARGEST);
    long lookedUs = 0;
    long readUs = clock.runningUs();
    long catchingUpUntilUs = 0;
    while (!isStopping()) {
      packet.setLength(LARGEST);
      boolean isEmpty = false;
      try {
        socket.receive(packet);
        take(packet);
      } catch (RuntimeException e) {
        faults.add(e);
      } catch (SocketTimeoutException e) {
        // Nothing came; what waits for earlier lines may have waited long enough.
        isEmpty = true;
      }
      long nowUs = clock.runningUs();
      // After a stall of this computer the earlier lines may lie in the socket's buffer.
      boolean stood = !isEmpty && nowUs - readUs > STANDSTILL_US;
      catchingUpUntilUs = isEmpty ? 0 : stood ? nowUs + CATCH_UP_US : catchingUpUntilUs;
      readUs = nowUs;
      if (nowUs - lookedUs >= POLL_MS * 1000L && nowUs >= catchingUpUntilUs) {
        senders.release(nowUs);
        lookedUs = nowUs;
      }
    }
  }

  private void take(DatagramPacket packet) {
    long nowUs = clock.runningUs();
    InetSocketAddress from = (InetSocketAddress) packet.getSocketAddress();
    NetSender sender = senders.at(from, nowUs, () -> {}).orElse(null);
    if (sender == null || packet.getLength() == 0) {
      return;
    }
    int offset = packet.getOffset();
    byte[] bytes = Arrays.copyOfRange(packet.getData(), offset, offset + packet.getLength());
    clock.nowUs();
    sender.feed(from.getPort(), bytes, bytes.length, nowUs);
    if (bytes[bytes.length - 1] != '\n') {
      sender.feed(from.getPort(), LINE_END, 1, nowUs);
    }
  }

  @Override
  String sent() {
    return "";
  }
}

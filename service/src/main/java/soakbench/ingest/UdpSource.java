package soakbench.ingest;

import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.net.SocketTimeoutException;
import java.util.Arrays;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes lines as datagrams, one or more in each; the last line of one needs no line end, and no
 * line goes on in another. Nothing is ever sent.
 */
final class UdpSource implements Source {
  private static final Logger LOG = LoggerFactory.getLogger(UdpSource.class);
  private static final int LARGEST = 65_535;
  private static final int RECEIVE_BUFFER = 4 << 20;
  private static final int LOOK_EVERY_MS = 50;
  private static final int RETRY_MS = 1000;
  private static final byte[] LINE_END = {'\n'};

  private final ListenAddress address;
  private final NetSenders senders;
  private final ArrivalClock clock;
  private final CountDownLatch stopping = new CountDownLatch(1);
  private final Thread thread = new Thread(this::run, "udp lines");
  private volatile NetStanding standing;

  UdpSource(ListenAddress address, NetSenders senders, ArrivalClock clock) {
    this.address = address;
    this.senders = senders;
    this.clock = clock;
    this.standing = NetStanding.notTried(address);
    thread.setDaemon(true);
  }

  @Override
  public void start() {
    thread.start();
  }

  @Override
  public void stop() {
    stopping.countDown();
  }

  @Override
  public void close() {
    stop();
    NetStanding.join(thread);
    senders.stop();
  }

  private boolean isStopping() {
    return stopping.getCount() == 0;
  }

  private void run() {
    try {
      while (!isStopping()) {
        try (DatagramSocket socket = open()) {
          standing = NetStanding.open(socket.getLocalSocketAddress());
          LOG.info("listening for lines over UDP at {}", standing.address());
          receive(socket);
        } catch (IOException e) {
          NetStanding now = NetStanding.closed(address, "UDP", e);
          if (!now.equals(standing)) {
            LOG.warn(now.reason());
          }
          standing = now;
        }
        stopping.await(RETRY_MS, TimeUnit.MILLISECONDS);
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted", e);
    } catch (RuntimeException e) {
      LOG.error("listening over UDP has stopped by a fault of this program", e);
      standing = NetStanding.closed(address, "UDP", e);
    }
  }

  private DatagramSocket open() throws IOException {
    DatagramSocket socket = new DatagramSocket(null);
    try {
      socket.setReceiveBufferSize(RECEIVE_BUFFER);
      socket.setSoTimeout(LOOK_EVERY_MS);
      socket.bind(address.resolved());
      return socket;
    } catch (IOException | RuntimeException e) {
      socket.close();
      throw e;
    }
  }

  private void receive(DatagramSocket socket) throws IOException {
    DatagramPacket packet = new DatagramPacket(new byte[LARGEST], LARGEST);
    long lookedUs = 0;
    while (!isStopping()) {
      packet.setLength(LARGEST);
      try {
        socket.receive(packet);
        take(packet);
      } catch (SocketTimeoutException e) {
        // Nothing came; what waits for earlier lines may have waited long enough.
      }
      long nowUs = clock.nowUs();
      if (nowUs - lookedUs >= LOOK_EVERY_MS * 1000L) {
        senders.release(nowUs);
        lookedUs = nowUs;
      }
    }
  }

  private void take(DatagramPacket packet) {
    long nowUs = clock.nowUs();
    InetSocketAddress from = (InetSocketAddress) packet.getSocketAddress();
    NetSender sender = senders.at(from, nowUs, () -> {}).orElse(null);
    if (sender == null || packet.getLength() == 0) {
      return;
    }
    byte[] bytes =
        Arrays.copyOfRange(
            packet.getData(), packet.getOffset(), packet.getOffset() + packet.getLength());
    sender.feed(bytes, bytes.length, nowUs);
    if (bytes[bytes.length - 1] != '\n') {
      sender.feed(LINE_END, 1, nowUs);
    }
  }

  @Override
  public SourceStatus status() {
    return standing.status(SourceKind.UDP, senders, "", clock.nowUs());
  }
}

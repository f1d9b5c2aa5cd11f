package soakbench.demo;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.StandardSocketOptions;
import java.nio.ByteBuffer;
import java.nio.channels.SocketChannel;
import java.util.Optional;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A connection to where lines are listened for; pulling the cable closes it. */
final class TcpTransport implements Transport {
  private static final Logger LOG = LoggerFactory.getLogger(TcpTransport.class);

  /** About what a pseudo-terminal holds: what waits in a buffer is printed but not read yet. */
  private static final int BUFFER_BYTES = 1 << 14;

  private final Supplier<Optional<InetSocketAddress>> listener;
  private SocketChannel channel;

  /**
   * @param listener where lines are listened for now; empty where nobody listens
   */
  TcpTransport(Supplier<Optional<InetSocketAddress>> listener) {
    this.listener = listener;
  }

  @Override
  public void plugIn() throws IOException {
    if (channel == null) {
      channel = listener.get().map(TcpTransport::connected).orElse(null);
    }
  }

  /** Null where nobody answers; over the loopback that is known at once. */
  private static SocketChannel connected(InetSocketAddress to) {
    SocketChannel opened = null;
    try {
      opened = SocketChannel.open();
      opened.setOption(StandardSocketOptions.SO_SNDBUF, BUFFER_BYTES);
      opened.setOption(StandardSocketOptions.TCP_NODELAY, true);
      opened.connect(to);
      opened.configureBlocking(false);
      return opened;
    } catch (IOException e) {
      LOG.debug("nobody listens at {}", to, e);
      close(opened);
      return null;
    }
  }

  @Override
  public void unplug() {
    close(channel);
    channel = null;
  }

  private static void close(SocketChannel opened) {
    try {
      if (opened != null) {
        opened.close();
      }
    } catch (IOException e) {
      LOG.debug("closing a connection", e);
    }
  }

  @Override
  public int write(byte[] bytes) {
    if (channel == null) {
      return 0;
    }
    try {
      return channel.write(ByteBuffer.wrap(bytes));
    } catch (IOException e) {
      LOG.debug("the connection broke", e);
      unplug();
      return -1;
    }
  }
}

package soakbench.cli;

import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.DelayQueue;
import java.util.concurrent.Delayed;
import java.util.concurrent.TimeUnit;

/**
 * A network between trackers and the bench that loses some datagrams, delivers some twice and lets
 * them overtake each other. Each sender has a socket of its own; counts what it delivered.
 */
final class LossyNetwork implements AutoCloseable {
  private static final int LONGEST_DELAY_MS = 100;

  private final InetSocketAddress to;
  private final Random random;
  private final List<DatagramSocket> sockets = new ArrayList<>();
  private final DelayQueue<OnItsWay> onItsWay = new DelayQueue<>();
  private final Thread carrier = new Thread(this::carry, "network");
  private volatile IOException failure;

  private record OnItsWay(DatagramSocket from, byte[] bytes, long dueNs) implements Delayed {
    @Override
    public long getDelay(TimeUnit unit) {
      return unit.convert(dueNs - System.nanoTime(), TimeUnit.NANOSECONDS);
    }

    @Override
    public int compareTo(Delayed other) {
      return Long.compare(getDelay(TimeUnit.NANOSECONDS), other.getDelay(TimeUnit.NANOSECONDS));
    }
  }

  LossyNetwork(InetSocketAddress to, int senders, long seed) throws IOException {
    this.to = to;
    this.random = new Random(seed);
    for (int i = 0; i < senders; i++) {
      sockets.add(new DatagramSocket(0, InetAddress.getLoopbackAddress()));
    }
    carrier.setDaemon(true);
    carrier.start();
  }

  /**
   * Sends a datagram from a sender.
   *
   * @param lossy whether it may get lost
   * @return whether it will be delivered, perhaps twice
   */
  synchronized boolean send(int sender, byte[] bytes, boolean lossy) {
    if (lossy && random.nextInt(100) < 5) {
      return false;
    }
    int copies = random.nextInt(100) < 1 ? 2 : 1;
    for (int i = 0; i < copies; i++) {
      // Most go straight through; every tenth is held up and overtaken.
      int delayMs = random.nextInt(10) == 0 ? random.nextInt(LONGEST_DELAY_MS) : 0;
      long dueNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(delayMs);
      onItsWay.add(new OnItsWay(sockets.get(sender), bytes, dueNs));
    }
    return true;
  }

  private void carry() {
    try {
      while (true) {
        OnItsWay next = onItsWay.take();
        next.from.send(new DatagramPacket(next.bytes, next.bytes.length, to));
      }
    } catch (InterruptedException e) {
      // Closed.
    } catch (IOException e) {
      failure = e;
    }
  }

  /** Why it stopped; null while it goes on. */
  IOException failure() {
    return failure;
  }

  @Override
  public void close() {
    carrier.interrupt();
    sockets.forEach(DatagramSocket::close);
  }
}

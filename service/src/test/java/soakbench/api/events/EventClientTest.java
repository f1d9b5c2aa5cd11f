package soakbench.api.events;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

/** What one listener that stalls may cost. */
class EventClientTest {
  private static final int MIB = 1 << 20;

  /** A line that takes nothing until it is cut. */
  private static final class Stalled extends OutputStream {
    final CountDownLatch cut = new CountDownLatch(1);

    @Override
    public void write(int b) throws IOException {
      write(new byte[] {(byte) b});
    }

    @Override
    public void write(byte[] bytes, int offset, int length) throws IOException {
      try {
        cut.await();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      throw new IOException("cut");
    }
  }

  private static Thread running(EventClient client) {
    Thread thread =
        new Thread(
            () -> {
              try {
                client.run();
              } catch (IOException | InterruptedException e) {
                // Cut off, which the test waits for.
              }
            });
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  @Test
  void largeEventsThatNobodyTakesAreHeldUpToSomeMebibytesAndThenLetGo() {
    Stalled line = new Stalled();
    AtomicInteger cuts = new AtomicInteger();
    EventClient client =
        new EventClient(
            line,
            () -> {
              cuts.incrementAndGet();
              line.cut.countDown();
            },
            1000);
    Thread writer = running(client);
    int held = 0;
    while (client.offer(new byte[MIB])) {
      held++;
    }
    assertThat(held).isBetween(8, 9);
    assertThat(cuts).hasValue(1);
    await().until(() -> !writer.isAlive());
    assertThat(client.offer(new byte[1])).isFalse();
  }

  @Test
  void aListenerThatKeepsUpHearsAnyAmount() {
    ByteArrayOutputStream heard = new ByteArrayOutputStream();
    EventClient client = new EventClient(heard, () -> {}, 1000);
    Thread writer = running(client);
    for (int i = 1; i <= 40; i++) {
      assertThat(client.offer(new byte[MIB])).isTrue();
      int bytes = i * MIB;
      await().until(() -> heard.size() >= bytes);
    }
    client.close();
    await().until(() -> !writer.isAlive());
  }

  @Test
  void oneEventThatIsLargerThanAllThatMayWaitIsStillTold() {
    ByteArrayOutputStream heard = new ByteArrayOutputStream();
    EventClient client = new EventClient(heard, () -> {}, 1000);
    running(client);
    assertThat(client.offer(new byte[20 * MIB])).isTrue();
    await().until(() -> heard.size() == 20 * MIB);
    client.close();
  }
}

package soakbench.ingest.net;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.ListenSettings;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.lines.Reading;
import soakbench.model.Sample;

/** How senders stand while nobody takes their samples: that must be told all the same. */
@Timeout(120)
class NetSendersTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final long MINUTE_US = 60_000_000;

  @TempDir private Path folder;
  private final CountDownLatch taking = new CountDownLatch(1);
  private final AtomicBoolean waits = new AtomicBoolean();

  @AfterEach
  void letGo() {
    taking.countDown();
  }

  private NetSenders senders(boolean reordered) throws Exception {
    Path file = Files.writeString(folder.resolve("rack.yaml"), "listen: {udp: 127.0.0.1:0}\n");
    ListenSettings settings = RackFileParser.read(file).listen();
    IdOwners owners = new IdOwners(tracker -> Reading.NO_TIME, this::take);
    return new NetSenders(settings, host -> null, owners, reordered);
  }

  /** As the queue does while the spool is full; only of this tracker. */
  private void take(Sample sample) {
    if (sample.tracker().equals("HELD")) {
      waits.set(true);
      try {
        taking.await();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  private static InetSocketAddress host(int i) {
    return new InetSocketAddress("10.0.%d.%d".formatted(i / 250, 1 + i % 250), 5000);
  }

  private static void lines(NetSenders senders, int host, String id, long atUs) {
    String line = "{\"id\":\"%s\",\"gyro_dps\":[0,0,0]}\n".formatted(id);
    byte[] bytes = (line + line).getBytes(UTF_8);
    senders.at(host(host), atUs, () -> {}).orElseThrow().feed(bytes, bytes.length, atUs);
  }

  private static void start(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
  }

  private static <T> T atOnce(Supplier<T> asked) throws Exception {
    return CompletableFuture.supplyAsync(asked).get(10, TimeUnit.SECONDS);
  }

  @Test
  void howTheyStandIsToldWhileNobodyTakesWhatTheySent() throws Exception {
    for (boolean reordered : new boolean[] {true, false}) {
      waits.set(false);
      NetSenders senders = senders(reordered);
      start("held", () -> lines(senders, 0, "HELD", START_US));
      await().atMost(Duration.ofSeconds(30)).untilTrue(waits);
      assertThat(atOnce(() -> senders.newest(0))).hasSize(1);
      assertThat(atOnce(() -> senders.heard(START_US, 0)).trackers()).containsExactly("HELD");
    }
  }

  @Test
  void oneThatMustMakeRoomWhileItsSamplesWaitHoldsUpNobodyWhoAsks() throws Exception {
    NetSenders senders = senders(false);
    start("held", () -> lines(senders, 0, "HELD", START_US));
    await().atMost(Duration.ofSeconds(30)).untilTrue(waits);
    for (int i = 1; i < NetSenders.MOST; i++) {
      lines(senders, i, "T-" + i, START_US + MINUTE_US);
    }
    start("new", () -> lines(senders, NetSenders.MOST, "NEW", START_US + 2 * MINUTE_US));
    await().atMost(Duration.ofSeconds(30)).until(() -> hasRoomMade(senders));
    assertThat(atOnce(() -> senders.newest(0))).isNotEmpty();
    assertThat(atOnce(() -> senders.heard(START_US, 0)).trackers()).contains("T-1");
  }

  private static boolean hasRoomMade(NetSenders senders) {
    return senders.all().stream().noneMatch(sender -> sender.trackers().contains("HELD"));
  }
}

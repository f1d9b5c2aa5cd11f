package soakbench.ingest.net;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import soakbench.LiveBytes;
import soakbench.ingest.Agent;
import soakbench.ingest.AgentRig;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.lines.Rejection.Kind;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/** Lines over the network, on real sockets of this computer. */
class NetSourcesTest extends AgentRig {
  private static final String BOTH = "listen: {udp: 127.0.0.1:0, tcp: 127.0.0.1:0}\n";

  private Agent listen(String yaml) throws IOException {
    Path file = Files.writeString(folder.resolve("rack.yaml"), yaml);
    Spool own = spool("spool-" + toClose.size() + ".db", SqliteSpool.DEFAULT_LIMIT_BYTES);
    Agent agent =
        new Agent(
            RackFileParser.read(file),
            finder,
            own,
            Destination.of(memory),
            failures::add,
            Agent.QUEUE_SIZE,
            Duration.ofSeconds(3),
            heard::add);
    toClose.add(agent);
    agent.start();
    return agent;
  }

  private static SourceStatus of(Agent agent, SourceKind kind) {
    return agent.sources().stream()
        .filter(s -> s.kind() == kind && s.slot().isEmpty())
        .findFirst()
        .orElseThrow();
  }

  private static InetSocketAddress opened(Agent agent, SourceKind kind) {
    await().until(() -> of(agent, kind).open());
    String port = of(agent, kind).port();
    return new InetSocketAddress(
        "127.0.0.1", Integer.parseInt(port.substring(port.lastIndexOf(':') + 1)));
  }

  private DatagramSocket sender() throws IOException {
    DatagramSocket socket = new DatagramSocket(0, InetAddress.getLoopbackAddress());
    toClose.add(socket);
    return socket;
  }

  private static void send(DatagramSocket from, InetSocketAddress to, String text)
      throws IOException {
    byte[] bytes = text.getBytes(UTF_8);
    from.send(new DatagramPacket(bytes, bytes.length, to));
  }

  private Socket connected(InetSocketAddress to) throws IOException {
    Socket socket = new Socket(to.getAddress(), to.getPort());
    toClose.add(socket);
    return socket;
  }

  private static void write(Socket to, String text) throws IOException {
    to.getOutputStream().write(text.getBytes(UTF_8));
    to.getOutputStream().flush();
  }

  private static String udpLine(String id, int seq) {
    return "{\"id\":\"%s\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}"
        .formatted(id, seq, 1000 + 10 * seq);
  }

  @Test
  void nothingListensUnlessItIsSet() throws IOException {
    Agent agent = listen("slots: {A1: {port: " + folder.resolve("none") + "}}\n");
    assertThat(agent.sources()).extracting(SourceStatus::kind).containsOnly(SourceKind.SERIAL);
  }

  @Test
  void aDatagramHoldsOneLineOrMoreAndItsLastOneNeedsNoEnd() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    send(a, to, udpLine("T-1", 0));
    send(a, to, udpLine("T-1", 1) + "\n" + udpLine("T-1", 2) + "\r\n" + udpLine("T-1", 3));
    send(a, to, "");
    await().until(() -> count("T-1") == 4);
    SourceStatus udp = of(agent, SourceKind.UDP);
    assertThat(udp.senders()).hasSize(1);
    assertThat(udp.senders().get(0).address()).isEqualTo("127.0.0.1:" + a.getLocalPort());
    assertThat(udp.senders().get(0).trackers()).containsExactly("T-1");
    assertThat(udp.heard().newest().form()).isEqualTo("json");
    assertThat(udp.heard().counts().readings()).isEqualTo(4);
  }

  @Test
  void aSenderThatTakesAFreshSocketForEachDatagramIsOneSenderAndLosesNothing() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    for (int seq = 0; seq < 200; seq++) {
      // Every fifth is overtaken by the next.
      int sent = seq % 5 == 3 ? seq + 1 : seq % 5 == 4 ? seq - 1 : seq;
      try (DatagramSocket fresh = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
        send(fresh, to, udpLine("T-1", sent));
        send(fresh, to, "{\"id\":\"T-2\",\"temp_c\":%d.5}".formatted(sent % 30));
      }
    }
    await().until(() -> count("T-1") == 200);
    assertThat(stored.get("T-1"))
        .extracting(Sample::seq)
        .isEqualTo(LongStream.range(0, 200).boxed().toList());
    assertThat(stored.get("T-1")).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    SourceStatus udp = of(agent, SourceKind.UDP);
    assertThat(udp.heard().counts().rejected()).isEmpty();
    assertThat(udp.senders()).as("both came from the newest port").hasSize(1);
    assertThat(udp.reason()).isEmpty();
    agent.close();
    await().until(() -> count("T-2") == 200);
  }

  @Test
  void whatTheGuideSendsByHandIsTaken() throws Exception {
    Agent agent = listen(BOTH);
    int port = opened(agent, SourceKind.UDP).getPort();
    String shown =
        Files.readAllLines(Path.of("..", "docs", "wiring.md")).stream()
            .filter(line -> line.startsWith("    ") && line.contains("> /dev/udp/127.0.0.1/9750"))
            .findFirst()
            .orElseThrow();
    String command = shown.replace("/9750", "/" + port);
    assertThat(new ProcessBuilder("bash", "-c", command).inheritIO().start().waitFor()).isZero();
    await().until(() -> count("T-0421") == 2);
    assertThat(of(agent, SourceKind.UDP).heard().counts().rejected()).isEmpty();
  }

  @Test
  void twoSourcesOfOneIdBehindOneAddressAreNotMixed() throws Exception {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    DatagramSocket b = sender();
    for (int i = 0; i < 5; i++) {
      send(a, to, udpLine("T-1", i));
    }
    await().until(() -> count("T-1") == 5);
    every(
        Duration.ofMillis(10),
        100,
        i -> {
          try {
            send(b, to, udpLine("T-1", 70_000 + i));
            send(a, to, udpLine("T-1", 5 + i));
          } catch (IOException e) {
            throw new UncheckedIOException(e);
          }
        });
    await().until(() -> count("T-1") == 105);
    assertThat(stored.get("T-1")).extracting(Sample::seq).allMatch(seq -> seq < 70_000);
    assertThat(heard).as("nor is its heat").hasSize(105);
    SourceStatus udp = of(agent, SourceKind.UDP);
    assertThat(udp.reason()).startsWith("T-1 comes from another sender at 127.0.0.1 as well");
    assertThat(udp.heard().counts().of(Kind.OTHER_SOURCE)).isGreaterThan(90);
  }

  @Test
  void aGarbledIdIsHeardOnceAndNoTracker() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    send(a, to, udpLine("ONE", 0) + "\n" + udpLine("ONF", 1) + "\n" + udpLine("ONE", 2));
    await().until(() -> count("ONE") == 2);
    SourceStatus.Heard udp = of(agent, SourceKind.UDP).heard();
    assertThat(udp.trackers()).containsExactly("ONE");
    assertThat(udp.heardOnce()).containsExactly("ONF");
    assertThat(heard).extracting(Arrival::tracker).containsExactly("ONE", "ONE");
    send(a, to, udpLine("ONF", 3));
    await().until(() -> count("ONF") == 2);
    assertThat(stored.get("ONF")).extracting(Sample::seq).containsExactly(1L, 3L);
    assertThat(of(agent, SourceKind.UDP).heard().heardOnce()).isEmpty();
  }

  @Test
  void halvesOfALineInTwoDatagramsAreNoLine() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    send(a, to, "{\"id\":\"T-1\",\"temp_c\":24");
    send(a, to, ".5}\n");
    await().until(() -> of(agent, SourceKind.UDP).heard().counts().rejectedTotal() == 2);
    assertThat(stored).isEmpty();
  }

  @Test
  void columnsOfOneSenderAreNotThoseOfAnother() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    DatagramSocket b = sender();
    send(a, to, "id,t_ms,temp_c\nT-1,10,21.5\n");
    send(b, to, "id,temp_c,t_ms\nT-2,22.5,10\n");
    send(a, to, "T-1,20,21.5\n");
    send(b, to, "T-2,22.5,20\n");
    await().until(() -> of(agent, SourceKind.UDP).heard().counts().readings() == 4);
    agent.close();
    await().until(() -> count("T-1") == 2 && count("T-2") == 2);
    assertThat(stored.get("T-1")).extracting(Sample::temperatureC).containsOnly(21.5f);
    assertThat(stored.get("T-2")).extracting(Sample::temperatureC).containsOnly(22.5f);
  }

  @Test
  void overtakenLinesAreStoredInTheirOrderAndARebootIsNoDisorder() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket a = sender();
    int[] order = {0, 1, 4, 2, 3, 6, 5, 9, 8, 7, 7, 10};
    for (int seq : order) {
      send(a, to, udpLine("T-1", seq));
    }
    await().until(() -> count("T-1") == 11);
    for (int seq : new int[] {0, 2, 1, 3}) {
      // A tracker that boots again counts from the beginning.
      send(
          a,
          to,
          "{\"id\":\"T-1\",\"boot\":\"b\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":20,\"gyro_dps\":[0,0,0]}"
              .formatted(seq, 10 * seq));
    }
    await().until(() -> count("T-1") == 15);
    assertThat(stored.get("T-1"))
        .extracting(Sample::seq)
        .containsExactly(0L, 1L, 2L, 3L, 4L, 5L, 6L, 7L, 8L, 9L, 10L, 0L, 1L, 2L, 3L);
    assertThat(stored.get("T-1")).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    assertThat(of(agent, SourceKind.UDP).heard().counts().of(Kind.NOT_RISING)).isEqualTo(1);
  }

  @Test
  void aConnectionIsReadAndItsHalfLineCounted() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.TCP);
    Socket a = connected(to);
    write(
        a,
        udpLine("T-1", 0) + "\n" + udpLine("T-1", 1) + "\n" + udpLine("T-1", 2).substring(0, 20));
    await().until(() -> count("T-1") == 2);
    write(a, udpLine("T-1", 2).substring(20) + "\n{\"id\":");
    await().until(() -> count("T-1") == 3);
    assertThat(of(agent, SourceKind.TCP).senders()).hasSize(1);
    a.close();
    await().until(() -> of(agent, SourceKind.TCP).heard().counts().of(Kind.HALF_LINE) == 1);
    assertThat(of(agent, SourceKind.TCP).senders()).isEmpty();
  }

  @Test
  void aTrackerThatTalksOnlyWhenAskedIsAskedOverItsConnection() throws IOException {
    Agent agent = listen("listen: {tcp: 127.0.0.1:0, ask: {after_open: [start]}}\n");
    Socket a = connected(opened(agent, SourceKind.TCP));
    assertThat(new String(a.getInputStream().readNBytes(6), UTF_8)).isEqualTo("start\n");
    write(a, udpLine("T-1", 0) + "\n" + udpLine("T-1", 1) + "\n");
    await().until(() -> count("T-1") == 2);
    await().until(() -> of(agent, SourceKind.TCP).sent().contains("start"));
  }

  @Test
  void aSlotIsBoundToAnAddress() throws IOException {
    Agent agent = listen(BOTH + "slots:\n  W1: {address: 127.0.0.1, tracker: T-9}\n");
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    assertThat(agent.sources().get(0).slot()).isEqualTo("W1");
    assertThat(agent.sources().get(0).reason()).contains("nothing has come from 127.0.0.1 yet");
    send(sender(), to, "{\"seq\":0,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}");
    await().until(() -> count("T-9") == 1);
    assertThat(agent.sources().get(0).open()).isTrue();
    assertThat(agent.sources().get(0).heard().trackers()).containsExactly("T-9");
  }

  @Test
  void aTrackerThatMovesFromOneSenderToAnotherGoesOn() throws IOException {
    Agent agent = listen(BOTH);
    Socket a = connected(opened(agent, SourceKind.TCP));
    write(a, udpLine("T-1", 0) + "\n" + udpLine("T-1", 1) + "\n");
    await().until(() -> count("T-1") == 2);
    a.close();
    Socket b = connected(opened(agent, SourceKind.TCP));
    write(b, udpLine("T-1", 2) + "\n" + udpLine("T-1", 3) + "\n");
    await().until(() -> count("T-1") == 4);
    assertThat(stored.get("T-1")).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
  }

  @Test
  void anAddressThatIsTakenIsToldAndTriedAgain() throws IOException {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      int port = taken.getLocalPort();
      Agent agent = listen("listen: {tcp: 127.0.0.1:" + port + "}\n");
      await().until(() -> of(agent, SourceKind.TCP).reason().contains("can't be listened at"));
      assertThat(of(agent, SourceKind.TCP).open()).isFalse();
      taken.close();
      assertThat(opened(agent, SourceKind.TCP).getPort()).isEqualTo(port);
    }
  }

  @Test
  void connectionsBeyondTheMostAreClosedAndTheOthersRead() throws IOException {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.TCP);
    List<Socket> all = new ArrayList<>();
    for (int i = 0; i < TcpSource.MOST; i++) {
      all.add(connected(to));
    }
    // One that says nothing holds up nobody.
    write(all.get(1), udpLine("T-1", 0) + "\n" + udpLine("T-1", 1) + "\n");
    await().until(() -> count("T-1") == 2);
    Socket tooMany = connected(to);
    tooMany.setSoTimeout(20_000);
    assertThat(tooMany.getInputStream().read()).isEqualTo(-1);
    all.get(0).close();
    await()
        .until(
            () -> {
              try (Socket again = new Socket(to.getAddress(), to.getPort())) {
                write(again, udpLine("T-2", 0) + "\n" + udpLine("T-2", 1) + "\n");
                return count("T-2") > 0;
              }
            });
  }

  @Test
  void garbageAndInventedSendersFillNoMemoryAndHoldUpNoTracker() throws Exception {
    Agent agent = listen(BOTH);
    InetSocketAddress to = opened(agent, SourceKind.UDP);
    DatagramSocket good = sender();
    Random random = new Random(3);
    byte[] garbage = new byte[1200];
    long before = LiveBytes.now();
    send(good, to, udpLine("T-1", 0));
    int sent = 1;
    for (int i = 0; i < 2_000; i++) {
      try (DatagramSocket invented = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
        for (int k = 0; k < 5; k++) {
          random.nextBytes(garbage);
          invented.send(new DatagramPacket(garbage, garbage.length, to));
        }
      }
      if (i % 10 == 0) {
        send(good, to, udpLine("T-1", sent++));
        int all = sent;
        await().until(() -> count("T-1") == all);
      }
    }
    assertThat(count("T-1")).isEqualTo(201);
    assertThat(of(agent, SourceKind.UDP).heard().counts().rejectedTotal()).isGreaterThan(1_000);
    assertThat(of(agent, SourceKind.UDP).senders().size()).isLessThanOrEqualTo(32);
    assertThat(LiveBytes.now() - before).as("growth of live data, bytes").isLessThan(32L << 20);
  }
}

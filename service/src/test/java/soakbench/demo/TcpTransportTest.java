package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(60)
class TcpTransportTest {
  private static final byte[] LINE = "line\n".getBytes(StandardCharsets.US_ASCII);

  @Test
  void takesNothingWhileNobodyListensAndConnectsOnceSomebodyDoes() throws Exception {
    InetSocketAddress free;
    try (ServerSocket was = server()) {
      free = new InetSocketAddress(InetAddress.getLoopbackAddress(), was.getLocalPort());
    }
    try (TcpTransport unknown = new TcpTransport(Optional::empty);
        TcpTransport transport = new TcpTransport(() -> Optional.of(free))) {
      unknown.plugIn();
      assertThat(unknown.write(LINE)).isZero();
      transport.plugIn();
      assertThat(transport.write(LINE)).isZero();
      try (ServerSocket server = new ServerSocket(free.getPort(), 1, free.getAddress())) {
        transport.plugIn();
        assertThat(transport.write(LINE)).isEqualTo(LINE.length);
        try (Socket reading = server.accept()) {
          assertThat(reading.getInputStream().readNBytes(LINE.length)).isEqualTo(LINE);
        }
      }
    }
  }

  @Test
  void aPulledCableEndsTheConnection() throws Exception {
    try (ServerSocket server = server();
        TcpTransport transport = to(server)) {
      transport.plugIn();
      try (Socket reading = server.accept()) {
        transport.unplug();
        assertThat(reading.getInputStream().read()).isEqualTo(-1);
      }
      assertThat(transport.write(LINE)).isZero();
    }
  }

  @Test
  void neverWaitsForAReaderThatTakesNothing() throws Exception {
    try (ServerSocket server = server();
        TcpTransport transport = to(server)) {
      transport.plugIn();
      try (Socket reading = server.accept()) {
        byte[] much = new byte[1 << 16];
        long taken = 0;
        int now = transport.write(much);
        while (now > 0) {
          taken += now;
          now = transport.write(much);
        }
        assertThat(now).isZero();
        assertThat(taken).isPositive();
        assertThat(reading.getInputStream().readNBytes(10)).hasSize(10);
      }
    }
  }

  @Test
  void saysThatTheOtherEndIsGoneAndConnectsAnew() throws Exception {
    try (ServerSocket server = server();
        TcpTransport transport = to(server)) {
      transport.plugIn();
      server.accept().close();
      Awaitility.await().until(() -> transport.write(LINE) == -1);
      transport.plugIn();
      assertThat(transport.write(LINE)).isEqualTo(LINE.length);
    }
  }

  private static ServerSocket server() throws Exception {
    return new ServerSocket(0, 10, InetAddress.getLoopbackAddress());
  }

  private static TcpTransport to(ServerSocket server) {
    return new TcpTransport(
        () -> Optional.of(new InetSocketAddress(server.getInetAddress(), server.getLocalPort())));
  }
}

package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.StoreException;

class ServerSecretsTest {
  @TempDir Path folder;

  @Test
  void aPasswordIsNewEachTimeAndKept() throws Exception {
    Path file = folder.resolve("password");
    ServerSecrets.newPassword(file);
    String first = ServerSecrets.password(file);
    assertThat(first).hasSize(48).matches("[0-9a-f]+");
    assertThat(ServerSecrets.password(file)).isEqualTo(first);
    ServerSecrets.newPassword(file);
    assertThat(ServerSecrets.password(file)).isNotEqualTo(first);
  }

  @Test
  void aPasswordThatIsMissingIsSaidWithWhatToDo() {
    assertThatThrownBy(() -> ServerSecrets.password(folder.resolve("gone")))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("gone is missing")
        .hasMessageContaining("backup");
  }

  @Test
  void thePortOfLastTimeIsTakenAgainUnlessAStrangerHasIt() throws Exception {
    Path file = folder.resolve("port");
    int port = ServerSecrets.port(file);
    assertThat(port).isBetween(20_000, 29_999);
    assertThat(ServerSecrets.port(file)).isEqualTo(port);
    try (ServerSocket stranger = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
      int other = ServerSecrets.port(file);
      assertThat(other).isNotEqualTo(stranger.getLocalPort());
      assertThat(Files.readString(file)).isEqualTo(Integer.toString(other));
    }
    Files.writeString(file, "not a port");
    assertThat(ServerSecrets.port(file)).isBetween(20_000, 29_999);
  }
}

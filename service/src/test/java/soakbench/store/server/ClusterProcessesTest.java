package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Which servers are ours to end. */
@Timeout(60)
class ClusterProcessesTest {
  /** A process that looks like a server on the folder $1, in which it works. */
  private static final String SERVER =
      "cd \"$1\" && touch up && exec -a postgres bash -c 'sleep 60; :' -D \"$1\"";

  @TempDir Path temp;
  private Path cluster;
  private Path others;

  @BeforeEach
  void folders() throws IOException {
    assumeTrue(Files.exists(Path.of("/proc/self/root")) && Files.exists(Path.of("/bin/bash")));
    cluster = Files.createDirectory(temp.toRealPath().resolve("cluster"));
    others = Files.createDirectory(temp.toRealPath().resolve("others"));
  }

  private Process started(Path seenIn, String script, String... before) throws IOException {
    List<String> command = new ArrayList<>(List.of(before));
    command.addAll(List.of("bash", "-c", script, "bash", cluster.toString(), others.toString()));
    Process process = new ProcessBuilder(command).start();
    await()
        .atMost(Duration.ofSeconds(20))
        .until(() -> !process.isAlive() || Files.exists(seenIn.resolve("up")));
    return process;
  }

  private static void end(Process process) throws InterruptedException {
    process.descendants().forEach(ProcessHandle::destroyForcibly);
    process.destroyForcibly().waitFor();
  }

  @Test
  void oneOnTheFolderIsOurs() throws Exception {
    Process server = started(cluster, SERVER);
    try {
      await()
          .atMost(Duration.ofSeconds(20))
          .until(() -> ClusterProcesses.on(cluster).contains(server.toHandle()));
      assertThat(ClusterProcesses.server(cluster)).hasValue(server.toHandle());
      assertThat(ClusterProcesses.on(others)).isEmpty();
    } finally {
      end(server);
    }
  }

  @Test
  void oneOnAFolderOfTheSameNameInAContainerIsNot() throws Exception {
    String[] apart = {"unshare", "--user", "--map-root-user", "--mount"};
    assumeTrue(isPossible(apart), "this system lets nobody have mounts of his own");
    Process server = started(others, "mount --bind \"$2\" \"$1\" && " + SERVER, apart);
    try {
      assertThat(server.isAlive()).isTrue();
      await()
          .atMost(Duration.ofSeconds(20))
          .until(() -> ClusterProcesses.on(others).contains(server.toHandle()));
      assertThat(ClusterProcesses.on(cluster)).isEmpty();
      assertThat(ClusterProcesses.server(cluster)).isEmpty();
    } finally {
      end(server);
    }
  }

  private boolean isPossible(String... apart) throws Exception {
    List<String> command = new ArrayList<>(List.of(apart));
    command.addAll(List.of("mount", "--bind", others.toString(), cluster.toString()));
    try {
      return new ProcessBuilder(command).start().waitFor() == 0;
    } catch (IOException e) {
      return false;
    }
  }
}

package soakbench.store.server;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** A database server of our own that can be killed as by a power cut, and started again. */
public final class KillableServer implements AutoCloseable {
  private final Path folder;
  private EmbeddedServer server;

  public KillableServer(Path folder) {
    this.folder = folder;
    this.server = EmbeddedServer.start(folder);
  }

  /** Its address for {@code --db}, password and all. */
  public String url() {
    ServerAddress address = server.address();
    return address.url() + "?user=" + address.user() + "&password=" + address.password();
  }

  public Connection connect() throws SQLException {
    return server.address().dataSource(60).getConnection();
  }

  /** Signal 9 to all of its processes; returns when they have ended. */
  public void kill() throws IOException, InterruptedException {
    // Else the program that started it would start it again, as it should.
    server.leave();
    String pid = Files.readAllLines(folder.resolve("postgres/postmaster.pid")).get(0).strip();
    ProcessHandle master = ProcessHandle.of(Long.parseLong(pid)).orElseThrow();
    List<ProcessHandle> all = new ArrayList<>(master.descendants().toList());
    // The master first: it would start anew what it sees die.
    all.add(0, master);
    all.forEach(ProcessHandle::destroyForcibly);
    for (ProcessHandle process : all) {
      awaitEnd(process);
    }
  }

  /** Everything that works on a data folder now: server, backends, programs that set it up. */
  public static List<ProcessHandle> processesOn(Path folder) throws IOException {
    Path cluster = folder.resolve("postgres");
    return Files.exists(cluster) ? ClusterProcesses.on(cluster.toRealPath()) : List.of();
  }

  /** The server itself among them. */
  public static java.util.Optional<ProcessHandle> serverOn(Path folder) throws IOException {
    Path cluster = folder.resolve("postgres");
    return Files.exists(cluster)
        ? ClusterProcesses.server(cluster.toRealPath())
        : java.util.Optional.empty();
  }

  private static void awaitEnd(ProcessHandle process) throws InterruptedException {
    try {
      process.onExit().get(20, TimeUnit.SECONDS);
    } catch (ExecutionException | TimeoutException e) {
      throw new AssertionError("process " + process.pid() + " does not end", e);
    }
  }

  /** Starts it again, which repairs it. */
  public void restart() throws IOException {
    server.close();
    server = EmbeddedServer.start(folder);
  }

  @Override
  public void close() throws IOException {
    server.close();
  }
}

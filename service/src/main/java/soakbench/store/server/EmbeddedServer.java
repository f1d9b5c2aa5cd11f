package soakbench.store.server;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import io.zonky.test.db.postgres.util.LinuxUtils;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.UserPrincipal;
import java.time.Duration;
import java.time.Instant;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/**
 * Our own PostgreSQL, its data kept safe: the library is made for throw-away test databases, so
 * every setting that trades safety for speed is turned back here.
 */
public final class EmbeddedServer implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(EmbeddedServer.class);

  private static final String MAJOR = "17";
  private static final String DATABASE = "postgres";
  private static final String USER = "postgres";

  /** Recovery after a power cut may take this long. */
  private static final Duration START_WAIT = Duration.ofMinutes(2);

  private static final int MOST_STARTS = 5;

  private final DataFolder folder;
  private final String password;
  private final int port;
  private final ServerSupervisor supervisor;
  private volatile EmbeddedPostgres server;

  private EmbeddedServer(
      DataFolder folder,
      EmbeddedPostgres server,
      ProcessHandle process,
      String password,
      int port) {
    this.folder = folder;
    this.server = server;
    this.password = password;
    this.port = port;
    this.supervisor = new ServerSupervisor(process, new Again());
  }

  /**
   * Starts the server on a folder; sets it up first where it is new.
   *
   * @throws StoreException if the folder is in use, or the server does not start, with the reason
   */
  public static EmbeddedServer start(Path path) {
    return start(path, () -> {});
  }

  /**
   * The same.
   *
   * @param claimed called when the folder is ours, before the server starts
   */
  public static EmbeddedServer start(Path path, Runnable claimed) {
    refuseRoot();
    DataFolder folder = DataFolder.claim(path);
    try {
      claimed.run();
      try {
        return startedAtLast(folder);
      } catch (IOException | RuntimeException e) {
        folder.close();
        throw e;
      }
    } catch (IOException e) {
      throw ServerStart.notStarted(folder, e.toString(), e);
    }
  }

  /** A server that is killed while it starts is started again, a few times. */
  private static EmbeddedServer startedAtLast(DataFolder folder) throws IOException {
    for (int start = 1; ; start++) {
      try {
        return start(folder);
      } catch (StoreException e) {
        boolean again = e.transientFault() && start < MOST_STARTS;
        if (!again || Thread.currentThread().isInterrupted()) {
          throw e;
        }
        LOG.warn("{}; starting it again", e.getMessage());
      }
    }
  }

  private static EmbeddedServer start(DataFolder folder) throws IOException {
    refuseOtherOwner(folder);
    OrphanServer.clear(folder.cluster());
    setAsideUnfinished(folder);
    boolean fresh = !Files.exists(folder.cluster().resolve("PG_VERSION"));
    if (fresh) {
      Files.writeString(folder.unfinished(), "removed when the first start is finished\n");
      ServerSecrets.newPassword(folder.password());
    } else {
      refuseOtherMajor(folder);
    }
    String password = ServerSecrets.password(folder.password());
    int port = ServerSecrets.port(folder.port());
    EmbeddedPostgres server = startServer(folder, password, port);
    Files.deleteIfExists(folder.unfinished());
    return new EmbeddedServer(folder, server, running(folder, server), password, port);
  }

  private static ProcessHandle running(DataFolder folder, EmbeddedPostgres server)
      throws IOException {
    try {
      return OrphanServer.running(folder.cluster());
    } catch (IOException e) {
      server.close();
      throw new StoreException(
          "the database in " + folder.path() + " was ended as soon as it had started", e, true);
    }
  }

  private static EmbeddedPostgres startServer(DataFolder folder, String password, int port)
      throws IOException {
    keepOneOldLog(folder.serverLog());
    return ServerStart.start(builder(folder, password, port), folder);
  }

  /** After the server has ended by itself: on the same folder and port, so that pools find it. */
  private final class Again implements ServerSupervisor.Start {
    @Override
    public ProcessHandle again() throws IOException {
      OrphanServer.clear(folder.cluster());
      server.close();
      server = startServer(folder, password, port);
      return OrphanServer.running(folder.cluster());
    }

    @Override
    public void hasten(ProcessHandle process) {
      try {
        if (OrphanServer.isStopping(folder.cluster())) {
          ClusterProcesses.signal(process, "INT");
        }
      } catch (IOException e) {
        LOG.debug("looking whether the server stops", e);
      }
    }
  }

  private static EmbeddedPostgres.Builder builder(DataFolder folder, String password, int port)
      throws IOException {
    ServerBinaries programs = ServerBinaries.of(folder);
    EmbeddedPostgres.Builder builder =
        EmbeddedPostgres.builder()
            .setDataDirectory(folder.cluster())
            .setCleanDataDirectory(false)
            .setRegisterShutdownHook(false)
            .setOverrideWorkingDirectory(programs.folder().toFile())
            .setPgBinaryResolver(programs)
            .setPGStartupWait(START_WAIT)
            .setPort(port)
            .setConnectConfig("password", password)
            .setOutputRedirector(ProcessBuilder.Redirect.appendTo(folder.serverLog().toFile()))
            .setErrorRedirector(ProcessBuilder.Redirect.appendTo(folder.serverLog().toFile()))
            .setServerConfig("fsync", "on")
            .setServerConfig("synchronous_commit", "on")
            .setServerConfig("full_page_writes", "on")
            .setServerConfig("listen_addresses", "127.0.0.1")
            .setServerConfig("unix_socket_directories", "''")
            .setServerConfig("max_connections", "40")
            .setServerConfig("log_checkpoints", "off");
    return initOptions(builder, folder);
  }

  /**
   * What the library calls locale options are options of initdb. They come after its own "-A
   * trust", so scram holds before the server listens for the first time.
   */
  private static EmbeddedPostgres.Builder initOptions(
      EmbeddedPostgres.Builder builder, DataFolder folder) {
    return builder
        .setLocaleConfig("auth", "scram-sha-256")
        .setLocaleConfig("pwfile", folder.password().toString())
        .setLocaleConfig("locale", "C");
  }

  /** A first start that was cut off holds nothing yet; still it is moved, never deleted. */
  private static void setAsideUnfinished(DataFolder folder) throws IOException {
    if (Files.exists(folder.unfinished()) && Files.exists(folder.cluster())) {
      String name = "postgres.unfinished-" + Instant.now().toEpochMilli();
      Files.move(folder.cluster(), folder.path().resolve(name));
      LOG.warn("the first start was cut off; moved its files to {} and begin anew", name);
    }
  }

  /** PostgreSQL opens only what belongs to its own user. */
  private static void refuseOtherOwner(DataFolder folder) throws IOException {
    if (!Files.exists(folder.cluster())) {
      return;
    }
    Path own = Files.createTempFile(folder.path(), "whose", null);
    UserPrincipal us = Files.getOwner(own);
    Files.delete(own);
    UserPrincipal owner = Files.getOwner(folder.cluster());
    if (!owner.equals(us)) {
      throw new StoreException(
          "the data folder %s belongs to user %s, this is %s; run Soakbench as %s, or choose %s"
              .formatted(
                  folder.path(),
                  owner.getName(),
                  us.getName(),
                  owner.getName(),
                  "another with --data"),
          null,
          false);
    }
  }

  private static void refuseOtherMajor(DataFolder folder) throws IOException {
    String major = Files.readString(folder.cluster().resolve("PG_VERSION")).strip();
    if (!major.equals(MAJOR)) {
      throw new StoreException(
          "the data folder %s holds data of PostgreSQL %s, this program runs %s; %s"
              .formatted(
                  folder.path(),
                  major,
                  MAJOR,
                  "use the Soakbench that wrote it, or another folder"),
          null,
          false);
    }
  }

  /** PostgreSQL refuses root; the library then borrows another identity, where the system lets. */
  private static void refuseRoot() {
    if ("root".equals(System.getProperty("user.name")) && !LinuxUtils.isUnshareAvailable()) {
      throw new StoreException(
          "PostgreSQL does not run as root, and this system does not allow \"unshare -U\"; run"
              + " Soakbench as an ordinary user, or give a server with --db",
          null,
          false);
    }
  }

  private static void keepOneOldLog(Path log) throws IOException {
    if (Files.exists(log)) {
      Path old = log.resolveSibling("postgres.log.old");
      Files.move(log, old, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  public ServerAddress address() {
    return address(port, password);
  }

  private static ServerAddress address(int port, String password) {
    String url = "jdbc:postgresql://127.0.0.1:" + port + "/" + DATABASE;
    return new ServerAddress(url, USER, password);
  }

  /**
   * Where another program's server on this folder listens, for reading only.
   *
   * @throws StoreException if there was never one
   */
  public static ServerAddress addressOfAnother(Path path) {
    Path port = path.resolve("port");
    Path password = path.resolve("password");
    try {
      if (Files.exists(port) && Files.exists(password)) {
        return address(
            Integer.parseInt(Files.readString(port).strip()), ServerSecrets.password(password));
      }
    } catch (IOException | NumberFormatException e) {
      throw new StoreException(
          "the data folder %s can't be read (%s); read as the user whom it belongs to"
              .formatted(path, e),
          e,
          false);
    }
    throw new StoreException(
        "the data folder %s has no database yet; start the service that writes it first"
            .formatted(path),
        null,
        true);
  }

  /** For tests that want it dead: it is not started again by itself from now on. */
  void leave() {
    supervisor.close();
  }

  private void stop() throws IOException {
    try {
      // Before the library does: it would wait 5 s for one that is recovering or halted.
      OrphanServer.clear(folder.cluster());
    } finally {
      server.close();
    }
  }

  /** Stops the server and waits for it; data stay. */
  @Override
  public void close() throws IOException {
    supervisor.close();
    boolean interrupted = Thread.interrupted();
    try {
      stop();
    } finally {
      folder.close();
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }
}

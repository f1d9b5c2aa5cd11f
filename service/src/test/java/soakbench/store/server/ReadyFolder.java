package soakbench.store.server;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import soakbench.store.connection.Schema;

/**
 * Data folders as a service leaves them that has started and stopped, for tests that are not about
 * a first start: setting up a server and its tables costs more than most of what is done with them.
 * One is set up below {@code target} and copied; it is named by the migrations and the class path,
 * and with it by the server's version.
 */
public final class ReadyFolder {
  /** What tells of the start that made it, and of no other. */
  private static final List<String> OF_THAT_START =
      List.of("port", "soakbench.lock", "postgres.log");

  private static Path original;

  private ReadyFolder() {}

  /**
   * Makes such a folder.
   *
   * @param folder not there yet, or empty
   * @return the folder
   */
  public static Path in(Path folder) {
    try {
      copy(original(), folder);
      return folder;
    } catch (IOException e) {
      throw new UncheckedIOException("no data folder could be made ready at " + folder, e);
    }
  }

  private static synchronized Path original() throws IOException {
    if (original == null) {
      Path classes = classes();
      Path made = classes.resolveSibling("ready-data-" + Long.toHexString(kind(classes)));
      // The programs that run tests side by side need one of them.
      try (FileChannel lock = lockFile(classes.resolveSibling("ready-data.lock"));
          FileLock held = lock.lock()) {
        if (!Files.exists(made)) {
          make(made);
        }
      }
      original = made;
    }
    return original;
  }

  private static FileChannel lockFile(Path file) throws IOException {
    return FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
  }

  /** Where our classes are compiled to, below {@code target}. */
  public static Path classes() {
    try {
      return Path.of(Schema.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new IllegalStateException(e);
    }
  }

  private static long kind(Path classes) throws IOException {
    CRC32 sum = new CRC32();
    sum.update(System.getProperty("java.class.path").getBytes());
    try (Stream<Path> files = Files.walk(classes.resolve("migrations"))) {
      for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
        sum.update(file.toString().getBytes());
        sum.update(Files.readAllBytes(file));
      }
    }
    return sum.getValue();
  }

  /** Under another name until it is whole: whoever makes it may be killed. */
  private static void make(Path made) throws IOException {
    Path half = Files.createTempDirectory(made.getParent(), "ready-data-half");
    try (EmbeddedServer server = EmbeddedServer.start(half)) {
      Schema.migrate(server.address().dataSource(0), server.address(), false);
      cheapenLogin(server.address());
    }
    for (String file : OF_THAT_START) {
      Files.deleteIfExists(half.resolve(file));
    }
    Files.move(half, made);
  }

  /**
   * Hashes the password, a random one, in one round: thousands of them take each connection ten
   * milliseconds of a processor, and each service opens ten.
   */
  private static void cheapenLogin(ServerAddress address) throws IOException {
    String again =
        "SET scram_iterations = 1; ALTER ROLE %s PASSWORD '%s'"
            .formatted(address.user(), address.password());
    try (Connection connection = address.dataSource(60).getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute(again);
    } catch (SQLException e) {
      throw new IOException("setting a password", e);
    }
  }

  private static void copy(Path from, Path to) throws IOException {
    try (Stream<Path> all = Files.walk(from)) {
      for (Path each : all.toList()) {
        Path copied = to.resolve(from.relativize(each).toString());
        if (!Files.isDirectory(copied)) {
          Files.copy(each, copied, StandardCopyOption.COPY_ATTRIBUTES);
        }
      }
    }
  }
}

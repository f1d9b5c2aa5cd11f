package soakbench.store.server;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import java.util.Optional;
import org.slf4j.LoggerFactory;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;
import org.testcontainers.utility.DockerImageName;

/** A server with TimescaleDB for all test classes of this program, where Docker is. */
final class TimescaleContainer {
  private static final Optional<String> URL = started();

  private TimescaleContainer() {}

  /** Its address with user and password; empty where there is no Docker. */
  static Optional<String> url() {
    return URL;
  }

  private static Optional<String> started() {
    try {
      return isDockerThere() ? Optional.of(start()) : Optional.empty();
    } catch (RuntimeException e) {
      throw new IllegalStateException(
          "Docker is here, but no container with TimescaleDB came up. Where its images can't be had,"
              + " name another server with -D"
              + GivenServer.PROPERTY
              + "=jdbc:…",
          e);
    }
  }

  private static String start() {
    // Ended with this program, by the container that Testcontainers starts for that.
    PostgreSQLContainer server =
        new PostgreSQLContainer(
            DockerImageName.parse("timescale/timescaledb:2.22.0-pg17")
                .asCompatibleSubstituteFor("postgres"));
    server.start();
    return "jdbc:postgresql://%s:%d/%s?user=%s&password=%s"
        .formatted(
            server.getHost(),
            server.getMappedPort(PostgreSQLContainer.POSTGRESQL_PORT),
            server.getDatabaseName(),
            server.getUsername(),
            server.getPassword());
  }

  /** Looking for Docker logs a page of errors where there is none; one line of ours says it all. */
  private static boolean isDockerThere() {
    Logger log = (Logger) LoggerFactory.getLogger("org.testcontainers");
    Level before = log.getLevel();
    log.setLevel(Level.OFF);
    try {
      return DockerClientFactory.instance().isDockerAvailable();
    } finally {
      log.setLevel(before);
    }
  }
}

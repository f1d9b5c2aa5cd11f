package soakbench.cli.options;

import java.nio.file.Path;
import picocli.CommandLine.Option;
import soakbench.store.server.DatabaseSettings;

/** Which store: the service's own, or a given server. */
public final class StoreOptions {
  @Option(
      names = "--data",
      paramLabel = "FOLDER",
      defaultValue = "soakbench-data",
      description = "where the embedded database keeps its files (default ${DEFAULT-VALUE})")
  private Path data;

  @Option(
      names = "--db",
      paramLabel = "URL",
      description =
          "a PostgreSQL or TimescaleDB server instead: jdbc:postgresql://HOST:PORT/NAME?user=USER")
  private String db;

  /** The folder, which holds the spool of a rack also where a server is given. */
  public Path data() {
    return data;
  }

  /** The store. */
  public DatabaseSettings settings() {
    return db == null ? DatabaseSettings.embedded(data) : DatabaseSettings.url(db);
  }
}

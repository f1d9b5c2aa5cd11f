package soakbench.store.connection;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationVersion;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.flywaydb.database.postgresql.PostgreSQLConfigurationExtension;
import soakbench.live.StoreException;
import soakbench.store.server.ServerAddress;

/**
 * Brings the tables up to date: the common ones, then hypertables where TimescaleDB is. The two
 * have histories of their own, so that the extension may come later.
 */
public final class Schema {
  /** Up to this one TimescaleDB's Apache-licensed part is enough. */
  private static final String FOR_ANY_LICENCE = "2";

  private Schema() {}

  /**
   * @param source connections without a socket timeout: moving rows into chunks takes long
   * @param extensions whether the server may have extensions; our own has none
   * @return whether TimescaleDB is there to be used; rows of before it came are yet to be moved
   *     into chunks, by {@code store.chunks}
   * @throws StoreException if the schema is newer than this program, or can't be brought up to date
   */
  public static boolean migrate(DataSource source, ServerAddress address, boolean extensions) {
    update(configure(source, "common").load(), address);
    if (!extensions || !Timescale.usable(source, address)) {
      return false;
    }
    // The first one moves all rows at once, in one transaction: only for tables without any.
    String before = Timescale.hasPlainRows(source) ? "1" : "0";
    update(timescale(source).baselineVersion(before).target(FOR_ANY_LICENCE).load(), address);
    return true;
  }

  /**
   * Adds what builds on hypertables and needs TimescaleDB's community licence: minutes put together
   * from bins, and compression.
   *
   * @throws StoreException if it can't be done
   */
  public static void addChunkFeatures(DataSource source, ServerAddress address) {
    update(timescale(source).load(), address);
  }

  private static FluentConfiguration timescale(DataSource source) {
    return configure(source, "timescale")
        .table("flyway_timescale_history")
        .baselineOnMigrate(true)
        .baselineVersion("0");
  }

  /**
   * Makes the tables as they were at an earlier version, without hypertables.
   *
   * @throws StoreException if the schema is newer than this program, or can't be brought up to date
   */
  public static void migrateTo(MigrationVersion version, DataSource source, ServerAddress address) {
    update(configure(source, "common").target(version).load(), address);
  }

  /** Up to which migration a database's tables are; empty where they are not ours. */
  public static Optional<String> version(Connection c) throws SQLException {
    String there = "SELECT to_regclass('flyway_schema_history')::text";
    if (Query.first(c, rows -> Objects.toString(rows.getString(1), ""), there)
        .orElseThrow()
        .isEmpty()) {
      return Optional.empty();
    }
    return Query.first(
        c,
        rows -> rows.getString(1),
        "SELECT version FROM flyway_schema_history WHERE success AND version IS NOT NULL"
            + " ORDER BY installed_rank DESC LIMIT 1");
  }

  /** The session lock, not the transactional one: with that, CREATE INDEX CONCURRENTLY hangs. */
  private static FluentConfiguration configure(DataSource source, String folder) {
    FluentConfiguration configuration =
        Flyway.configure(Schema.class.getClassLoader())
            .dataSource(source)
            .locations("classpath:migrations/" + folder);
    configuration
        .getConfigurationExtension(PostgreSQLConfigurationExtension.class)
        .setTransactionalLock(false);
    return configuration;
  }

  private static void update(Flyway flyway, ServerAddress address) {
    try {
      refuseNewer(flyway.info().all(), address);
      flyway.migrate();
    } catch (FlywayException e) {
      throwIfPassing(e, address);
      throw new StoreException(
          "the tables of %s can't be brought up to date (%s); %s"
              .formatted(
                  address,
                  oneLine(e),
                  "give Soakbench a database of its own, or restore its tables from a backup"),
          e,
          false);
    }
  }

  /** A connection that was lost says nothing about the tables. */
  private static void throwIfPassing(FlywayException fault, ServerAddress address) {
    for (Throwable cause = fault; cause != null; cause = cause.getCause()) {
      if (cause instanceof SQLException sql) {
        StoreException found =
            DatabaseFaults.of("bringing the tables of " + address + " up to date", sql);
        if (found.transientFault()) {
          throw found;
        }
      }
    }
  }

  /**
   * Whether the tables are as this program needs them, for a program that may not change them.
   *
   * @throws StoreException if they are older or newer, or the server does not answer
   */
  public static void check(DataSource source, ServerAddress address) {
    try {
      Flyway flyway = configure(source, "common").load();
      refuseNewer(flyway.info().all(), address);
      if (flyway.info().pending().length > 0) {
        throw new StoreException(
            "the tables of %s are not yet up to date; start the service that writes there first"
                .formatted(address),
            null,
            true);
      }
    } catch (FlywayException e) {
      throwIfPassing(e, address);
      throw new StoreException(
          "the tables of %s can't be read (%s); check that it is Soakbench's"
              .formatted(address, oneLine(e)),
          e,
          false);
    }
  }

  private static void refuseNewer(MigrationInfo[] all, ServerAddress address) {
    Stream.of(all)
        .filter(m -> m.getState().isApplied() && !m.getState().isResolved())
        .reduce((earlier, later) -> later)
        .ifPresent(
            newest -> {
              throw new StoreException(
                  "%s was set up by a newer Soakbench (schema %s, this one knows up to %s); %s"
                      .formatted(
                          address,
                          newest.getVersion(),
                          newestKnown(all),
                          "run that version, or choose another database"),
                  null,
                  false);
            });
  }

  private static String newestKnown(MigrationInfo[] all) {
    return Stream.of(all)
        .filter(m -> m.getState().isResolved() && m.getVersion() != null)
        .map(m -> m.getVersion().toString())
        .reduce((earlier, later) -> later)
        .orElse("none");
  }

  /** The server's own words where there are some; Flyway wraps them into a page. */
  private static String oneLine(FlywayException fault) {
    for (Throwable cause = fault; cause != null; cause = cause.getCause()) {
      if (cause instanceof SQLException sql) {
        return DatabaseFaults.detail(sql);
      }
    }
    String text = fault.getMessage() == null ? fault.toString() : fault.getMessage();
    return text.lines()
        .map(String::strip)
        .filter(l -> !l.isEmpty())
        .findFirst()
        .orElse("no reason");
  }
}

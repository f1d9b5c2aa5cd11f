package soakbench.store.server;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.Objects;
import soakbench.host.SecretVariable;
import soakbench.live.StoreException;

/**
 * Which database to use: our own in a data folder, or a given server.
 *
 * @param dataFolder where our own server keeps its files; null for a given server
 * @param url address of a given server, {@code jdbc:postgresql://HOST:PORT/NAME?user=USER}; null
 *     for our own
 * @param user user name where the address has none, or null
 * @param password password where the address has none, or null
 * @param chunks how samples and bins are kept where the server has TimescaleDB
 */
public record DatabaseSettings(
    Path dataFolder, String url, String user, String password, ChunkSettings chunks) {

  /** Environment variable with the user's name, for an address that has none. */
  public static final String USER_VARIABLE = "SOAKBENCH_DB_USER";

  /**
   * Environment variable with the password, for an address that has none; with {@code _FILE} behind
   * it, the one that names a file with it.
   */
  public static final String PASSWORD_VARIABLE = "SOAKBENCH_DB_PASSWORD";

  /** Our own server, its files in {@code dataFolder}, which is made if it is not there. */
  public static DatabaseSettings embedded(Path dataFolder) {
    Objects.requireNonNull(dataFolder, "data folder");
    return new DatabaseSettings(
        dataFolder.toAbsolutePath().normalize(), null, null, null, ChunkSettings.USUAL);
  }

  /** A given server; user and password from the address, else from the environment. */
  public static DatabaseSettings url(String url) {
    return url(url, System.getenv());
  }

  /**
   * The same.
   *
   * @param environment as {@link System#getenv()} gives it
   * @throws StoreException if the file that it names with the password can't be used, in a sentence
   */
  static DatabaseSettings url(String url, Map<String, String> environment) {
    try {
      String password = SecretVariable.read(PASSWORD_VARIABLE, environment);
      return url(url, environment.get(USER_VARIABLE), password);
    } catch (IOException e) {
      throw new StoreException(e.getMessage(), e, false);
    }
  }

  /** A given server; the address' own user and password go first. */
  public static DatabaseSettings url(String url, String user, String password) {
    return new DatabaseSettings(
        null, Objects.requireNonNull(url, "url"), user, password, ChunkSettings.USUAL);
  }

  /** The same with other chunks. */
  public DatabaseSettings with(ChunkSettings other) {
    return new DatabaseSettings(dataFolder, url, user, password, other);
  }

  public boolean isEmbedded() {
    return dataFolder != null;
  }

  /** Says which one without giving the password away. */
  @Override
  public String toString() {
    return isEmbedded() ? "data folder " + dataFolder : "database " + redact(url);
  }

  /** The address with its password blotted out. */
  static String redact(String url) {
    return url.replaceAll("(?i)(password=)[^&]*", "$1***").replaceAll("//[^/@]*@", "//***@");
  }
}

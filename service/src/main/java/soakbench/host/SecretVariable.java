package soakbench.host;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Map;

/**
 * A secret from the environment: a variable that holds it, or one of the same name with {@code
 * _FILE} behind it that names a file with it, as containers are given secrets: what is in the
 * environment itself is shown by much that lists containers and processes.
 */
public final class SecretVariable {
  private static final long LARGEST_BYTES = 4096;

  private SecretVariable() {}

  /**
   * The secret without the blanks and line ends about it; null where neither variable is set.
   *
   * @param environment as {@link System#getenv()} gives it
   * @throws IOException in a sentence without the secret: both are set, or the file can't be read,
   *     is empty, or too large to be one
   */
  public static String read(String variable, Map<String, String> environment) throws IOException {
    String named = variable + "_FILE";
    String value = set(variable, environment);
    String file = set(named, environment);
    if (value != null && file != null) {
      throw new IOException(variable + " and " + named + " are both set; set one of them");
    }
    return file == null ? value : ofFile(named, file);
  }

  private static String set(String variable, Map<String, String> environment) {
    String value = environment.get(variable);
    return value == null || value.isBlank() ? null : value.strip();
  }

  private static String ofFile(String named, String file) throws IOException {
    String what = named + " names " + file;
    try {
      Path path = Path.of(file);
      if (!Files.isRegularFile(path)) {
        throw new IOException(what + ", which is no file that this user can see");
      }
      if (Files.size(path) > LARGEST_BYTES) {
        throw new IOException(what + ", which is too large to be a secret");
      }
      if (!Files.isReadable(path)) {
        throw new IOException(what + ", which this user may not read");
      }
      String secret = Files.readString(path).strip();
      if (secret.isEmpty()) {
        throw new IOException(what + ", which is empty");
      }
      return secret;
    } catch (InvalidPathException e) {
      throw new IOException(what + ", which is no name of a file", e);
    }
  }
}

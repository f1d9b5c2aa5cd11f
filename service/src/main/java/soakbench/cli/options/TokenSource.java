package soakbench.cli.options;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributeView;
import java.nio.file.attribute.PosixFilePermission;
import java.util.Map;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.access.AccessToken;
import soakbench.host.SecretVariable;

/**
 * Where the token comes from: a file, else the environment. Never the command line, which every
 * user of a computer can list.
 */
public final class TokenSource {
  /** The variable with it; with {@code _FILE} behind it, the one that names a file with it. */
  public static final String VARIABLE = "SOAKBENCH_TOKEN";

  private static final Logger LOG = LoggerFactory.getLogger(TokenSource.class);
  private static final long LARGEST_FILE_BYTES = 4096;

  private TokenSource() {}

  /**
   * The token as programs send it, or null where none is given.
   *
   * @param file may be null
   * @param environment as {@link System#getenv()} gives it
   * @throws CommandException if what is given is no token; the token is not quoted
   */
  public static String read(Path file, Map<String, String> environment) throws IOException {
    if (file != null) {
      if (Files.isDirectory(file)) {
        throw new CommandException(file + " is a folder; --token-file takes a file");
      }
      if (Files.size(file) > LARGEST_FILE_BYTES) {
        throw new CommandException(file + " is too large to be a token");
      }
      warnOfReaders(file);
      return checked("the token in " + file, Files.readString(file).strip());
    }
    String value = SecretVariable.read(VARIABLE, environment);
    return value == null ? null : checked("the token of " + VARIABLE, value);
  }

  private static void warnOfReaders(Path file) throws IOException {
    PosixFileAttributeView view = Files.getFileAttributeView(file, PosixFileAttributeView.class);
    if (view != null
        && view.readAttributes().permissions().contains(PosixFilePermission.OTHERS_READ)) {
      LOG.warn("every user of this computer can read {}: chmod 600 {}", file, file);
    }
  }

  private static String checked(String what, String token) {
    AccessToken.problem(token)
        .ifPresent(
            problem -> {
              throw new CommandException(
                  what + " " + problem + ": openssl rand -hex 24 makes a good one");
            });
    return token;
  }
}

package soakbench.cli.running;

import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** The port that a service listens on. */
public final class ListeningPort {
  private static final int HIGHEST = 65_535;

  private ListeningPort() {}

  /**
   * The port, if it is one.
   *
   * @throws ParameterException if not
   */
  public static int checked(int port, CommandSpec command) {
    if (port < 0 || port > HIGHEST) {
      throw new ParameterException(
          command.commandLine(),
          "--port " + port + " is no port: it must be 0 to " + HIGHEST + ", 0 for any free one");
    }
    return port;
  }
}

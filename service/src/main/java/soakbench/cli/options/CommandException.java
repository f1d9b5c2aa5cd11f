package soakbench.cli.options;

/** An error that the user of the command line can fix; the message says what and how. */
public final class CommandException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  public CommandException(String message) {
    super(message);
  }

  public CommandException(String message, Throwable cause) {
    super(message, cause);
  }
}

package soakbench.cli.options;

/** Something that the person at the command line can mend; the message says what and how. */
public final class Failure extends RuntimeException {
  private static final long serialVersionUID = 1L;

  public Failure(String message) {
    super(message);
  }

  public Failure(String message, Throwable cause) {
    super(message, cause);
  }
}

package soakbench.cli;

/** Something that the person at the command line can mend; the message says what and how. */
final class Failure extends RuntimeException {
  private static final long serialVersionUID = 1L;

  Failure(String message) {
    super(message);
  }

  Failure(String message, Throwable cause) {
    super(message, cause);
  }
}

package soakbench.ingest.spool;

/** The spool could not do its work; the message is one sentence that says why and what to do. */
public final class SpoolException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  SpoolException(String message, Throwable cause) {
    super(message, cause);
  }
}

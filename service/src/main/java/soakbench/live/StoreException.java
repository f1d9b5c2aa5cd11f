package soakbench.live;

/**
 * The store could not do its work; the message says why and what to do, the cause has the details.
 */
public class StoreException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final boolean transientFault;

  /**
   * @param transientFault whether trying again later can help (the database is away, restarting, or
   *     full)
   */
  public StoreException(String message, Throwable cause, boolean transientFault) {
    super(message, cause);
    this.transientFault = transientFault;
  }

  public boolean transientFault() {
    return transientFault;
  }
}

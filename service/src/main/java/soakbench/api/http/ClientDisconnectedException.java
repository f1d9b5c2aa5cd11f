package soakbench.api.http;

import java.io.IOException;

/** The client closed its connection before it had the whole answer: there is nobody to answer. */
public final class ClientDisconnectedException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  public ClientDisconnectedException(IOException cause) {
    super(cause);
  }
}

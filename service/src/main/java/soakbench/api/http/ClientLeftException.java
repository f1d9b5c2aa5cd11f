package soakbench.api.http;

import java.io.IOException;

/** The client closed its connection before it had the whole answer: nobody is left to tell. */
public final class ClientLeftException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  public ClientLeftException(IOException cause) {
    super(cause);
  }
}

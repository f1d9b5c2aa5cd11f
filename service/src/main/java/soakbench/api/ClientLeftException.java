package soakbench.api;

import java.io.IOException;

/** The client closed its connection before it had the whole answer: nobody is left to tell. */
final class ClientLeftException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  ClientLeftException(IOException cause) {
    super(cause);
  }
}

package soakbench.api;

import java.net.BindException;
import java.net.UnknownHostException;
import java.nio.channels.UnresolvedAddressException;

/** The service can't listen where it was configured to; the message says why and what to do. */
public final class ApiStartException extends RuntimeException {
  private static final long serialVersionUID = 1L;
  private static final int FIRST_PORT_FOR_ALL = 1024;

  private ApiStartException(String message, Throwable cause) {
    super(message, cause);
  }

  static ApiStartException of(ApiSettings settings, RuntimeException cause) {
    String where = "port " + settings.port() + " of " + settings.host();
    return new ApiStartException("Cannot listen on " + where + ": " + why(cause), cause);
  }

  private static String why(Throwable cause) {
    Throwable root = cause;
    while (root.getCause() != null) {
      root = root.getCause();
    }
    String message = String.valueOf(root.getMessage());
    if (root instanceof UnresolvedAddressException || root instanceof UnknownHostException) {
      return "there is no such host. Give a name or address of this computer.";
    }
    if (message.contains("assign requested address")) {
      return "that address is not of this computer. 127.0.0.1 and 0.0.0.0 always are.";
    }
    if (message.contains("ermission denied")) {
      return "ports below " + FIRST_PORT_FOR_ALL + " need rights. Choose a higher one.";
    }
    if (root instanceof BindException) {
      return "another program has it; stop that, or choose another port (0 takes any free one).";
    }
    return message;
  }
}

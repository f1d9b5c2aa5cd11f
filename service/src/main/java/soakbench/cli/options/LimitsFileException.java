package soakbench.cli.options;

import java.util.List;

/** A limits file with something wrong in it; the message has one line for each problem. */
public final class LimitsFileException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  LimitsFileException(List<String> problems) {
    super(String.join(System.lineSeparator(), problems));
  }
}

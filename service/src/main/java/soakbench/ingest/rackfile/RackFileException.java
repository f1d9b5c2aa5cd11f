package soakbench.ingest.rackfile;

import java.util.List;

/** A rack file with something wrong in it; the message has one line for each problem. */
public final class RackFileException extends IllegalArgumentException {
  private static final long serialVersionUID = 1L;

  private final transient List<String> problems;

  RackFileException(List<String> problems) {
    super(String.join(System.lineSeparator(), problems));
    this.problems = List.copyOf(problems);
  }

  /** A sentence for each problem, with the file and the slot. */
  public List<String> problems() {
    return problems;
  }
}

package soakbench.lines;

import java.util.List;

/** A pattern that can't be used; lists everything that is wrong with it. */
public final class PatternException extends IllegalArgumentException {
  private static final long serialVersionUID = 1L;

  private final transient List<String> problems;

  PatternException(List<String> problems) {
    super(String.join("; ", problems));
    this.problems = List.copyOf(problems);
  }

  /** One sentence each. */
  public List<String> problems() {
    return problems;
  }
}

package soakbench.api.http;

import java.util.List;

/** Ends a request with a problem document. */
public final class ProblemException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient Problem problem;

  public ProblemException(Problem problem) {
    super(problem.detail());
    this.problem = problem;
  }

  public ProblemException(Problem.Kind kind, String detail) {
    this(Problem.of(kind, detail));
  }

  public ProblemException(Problem.Kind kind, String detail, List<Problem.Item> problems) {
    this(Problem.of(kind, detail, problems));
  }

  Problem problem() {
    return problem;
  }
}

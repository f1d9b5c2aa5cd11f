package soakbench.api;

import java.util.List;

/** Ends a request with a problem document. */
final class ProblemException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient Problem problem;

  ProblemException(Problem problem) {
    super(problem.detail());
    this.problem = problem;
  }

  ProblemException(Problem.Kind kind, String detail) {
    this(Problem.of(kind, detail));
  }

  ProblemException(Problem.Kind kind, String detail, List<Problem.Item> problems) {
    this(Problem.of(kind, detail, problems));
  }

  Problem problem() {
    return problem;
  }
}

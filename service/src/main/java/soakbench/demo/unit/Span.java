package soakbench.demo.unit;

/**
 * A stretch of a run.
 *
 * @param fromS its start, seconds since the run's start
 * @param toS its end, seconds since the run's start
 */
public record Span(double fromS, double toS) {
  public boolean holds(double timeS) {
    return timeS >= fromS && timeS < toS;
  }
}

package soakbench.readiness;

/**
 * When a tracker is expected to be ready if left as it lies.
 *
 * @param expectedUs median, microseconds since 1970
 * @param earliestUs 5 % point
 * @param latestUs 95 % point
 * @param priorUsed whether earlier soaks narrowed it
 * @param provisional true while the interval is the plain one, whose coverage is not yet shown
 */
public record ReadyAt(
    long expectedUs, long earliestUs, long latestUs, boolean priorUsed, boolean provisional) {}

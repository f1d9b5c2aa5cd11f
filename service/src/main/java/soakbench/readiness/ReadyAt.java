package soakbench.readiness;

import java.io.Serializable;

/**
 * When a tracker is expected to be ready if left as it lies.
 *
 * @param expectedUs by when it is as likely as not, microseconds since 1970
 * @param earliestUs 5 % point
 * @param latestUs 95 % point
 * @param priorUsed whether earlier soaks narrowed it
 */
public record ReadyAt(long expectedUs, long earliestUs, long latestUs, boolean priorUsed)
    implements Serializable {}

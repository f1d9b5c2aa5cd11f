package soakbench.live;

/**
 * A stretch of one tracker in which samples of an import lie.
 *
 * @param fromUs the first of them, microseconds since 1970
 * @param toUs the last of them
 */
public record ImportedStretch(String tracker, long fromUs, long toUs) {}

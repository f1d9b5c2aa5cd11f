package soakbench.model;

import java.io.Serializable;

/**
 * One line of a soak's timeline.
 *
 * @param timeUs from when on the state held, microseconds since 1970
 * @param state what it entered
 * @param revised true where a sample that came late changed what had been said before
 */
public record StateChange(long timeUs, State state, boolean revised) implements Serializable {}

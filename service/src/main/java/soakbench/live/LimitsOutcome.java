package soakbench.live;

import java.util.List;
import soakbench.model.Limits;

/**
 * What a change of the limits did, or would do.
 *
 * @param before the limits in force before
 * @param after those in force after it
 * @param sinceUs since when those hold, microseconds since 1970; null where nothing was written
 * @param judgedAgain ids of the soaks under way that are judged again by them
 * @param elsewhere ids of those that other services judge again, for their racks, soon after
 */
public record LimitsOutcome(
    Limits before, Limits after, Long sinceUs, List<String> judgedAgain, List<String> elsewhere) {}

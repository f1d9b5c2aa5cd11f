package soakbench.store;

/**
 * A tracker recorded under a wrong id, whose samples were given to another.
 *
 * @param atUs when, microseconds since 1970
 * @param tracker the wrong id
 * @param into whose the samples are now
 * @param address who asked for it
 * @param samples how many were given
 * @param aside how many were set aside, because the other has others of their times
 * @param done whether that is all of it
 */
public record TrackerMerge(
    long id,
    long atUs,
    String tracker,
    String into,
    String address,
    String reason,
    long samples,
    long aside,
    boolean done) {}

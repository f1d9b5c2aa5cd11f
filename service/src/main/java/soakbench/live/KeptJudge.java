package soakbench.live;

/**
 * The judge of a soak that goes on as it stood at one of its seconds, so that a start judges only
 * what came after. It can always be made again from the soak's bins.
 *
 * @param soak the soak's id
 * @param program which program wrote it; no other can read it
 * @param second the newest bin that it was given
 * @param bins how many it was given
 * @param readings how many readings these held
 * @param content for that program alone
 */
public record KeptJudge(
    String soak, String program, long second, long bins, long readings, byte[] content) {}

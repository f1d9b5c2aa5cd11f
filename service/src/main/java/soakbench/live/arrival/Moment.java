package soakbench.live.arrival;

/**
 * One moment by three clocks, microseconds since 1970.
 *
 * @param runningUs by the live clock, which never steps
 * @param dataUs by the clock of what is judged
 * @param dateUs by the computer's date
 */
record Moment(long runningUs, long dataUs, long dateUs) {}

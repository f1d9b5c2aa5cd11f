package soakbench.demo;

/**
 * A cover taken off for a while.
 *
 * @param fromS opened, seconds since the run's start
 * @param toS closed again, seconds since the run's start
 * @param dropC how much cooler the surroundings are meanwhile, degC
 */
public record Lid(double fromS, double toS, double dropC) {}
